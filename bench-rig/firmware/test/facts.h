/* Counts facts, and says every one that does not hold. */
#ifndef FACTS_H
#define FACTS_H

#include <stdbool.h>
#include <stdio.h>

static int failures;
static int facts;

static void fact(bool holds, const char *what, const char *file, int line) {
  facts++;
  if (!holds) {
    failures++;
    printf("%s:%d: %s\n", file, line, what);
  }
}

#define FACT(condition) fact(condition, #condition, __FILE__, __LINE__)

static inline int told(void) {
  printf("%d facts, %d do not hold\n", facts, failures);
  return failures != 0;
}

#endif
