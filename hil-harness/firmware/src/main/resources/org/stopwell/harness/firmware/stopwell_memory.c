/* What a compiler may call for copies: only for boards without a C library. */
#include <stddef.h>

void *memcpy(void *to, const void *from, size_t bytes);
void *memmove(void *to, const void *from, size_t bytes);
void *memset(void *to, int value, size_t bytes);
int memcmp(const void *a, const void *b, size_t bytes);

void *memcpy(void *to, const void *from, size_t bytes) {
  volatile unsigned char *t = to; /* volatile: else the compiler calls memcpy for it */
  const unsigned char *f = from;
  while (bytes--) *t++ = *f++;
  return to;
}

void *memmove(void *to, const void *from, size_t bytes) {
  volatile unsigned char *t = to;
  const unsigned char *f = from;
  if (t <= f) return memcpy(to, from, bytes);
  while (bytes--) t[bytes] = f[bytes];
  return to;
}

void *memset(void *to, int value, size_t bytes) {
  volatile unsigned char *t = to;
  while (bytes--) *t++ = (unsigned char)value;
  return to;
}

int memcmp(const void *a, const void *b, size_t bytes) {
  const unsigned char *x = a, *y = b;
  for (; bytes--; x++, y++)
    if (*x != *y) return *x < *y ? -1 : 1;
  return 0;
}
