/* What a compiler may call for copies: only for boards without a C library. */
#include <stddef.h>
#include <stdint.h>

#if defined(__GNUC__)
typedef uint32_t __attribute__((may_alias)) word;
#else
typedef unsigned char word;
#endif

void *memcpy(void *to, const void *from, size_t bytes);
void *memmove(void *to, const void *from, size_t bytes);
void *memset(void *to, int value, size_t bytes);
int memcmp(const void *a, const void *b, size_t bytes);

void *memcpy(void *to, const void *from, size_t bytes) {
  volatile unsigned char *t = to; /* volatile: else the compiler calls memcpy for it */
  const unsigned char *f = from;
  if (((uintptr_t)to | (uintptr_t)from) % sizeof(word) == 0) {
    volatile word *wide = to;
    const word *source = from;
    size_t words = bytes / sizeof(word);
    for (; words >= 4; words -= 4, wide += 4, source += 4) {
      wide[0] = source[0];
      wide[1] = source[1];
      wide[2] = source[2];
      wide[3] = source[3];
    }
    while (words--) *wide++ = *source++;
    t += bytes - bytes % sizeof(word);
    f += bytes - bytes % sizeof(word);
    bytes %= sizeof(word);
  }
  while (bytes--) *t++ = *f++;
  return to;
}

void *memmove(void *to, const void *from, size_t bytes) {
  volatile unsigned char *t = to;
  const unsigned char *f = from;
  if (t <= f || t >= f + bytes) return memcpy(to, from, bytes);
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
