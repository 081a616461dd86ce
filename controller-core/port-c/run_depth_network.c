/* Reads features from standard input and prints the outputs; weights.h is made from a weights file. */
#include <stdio.h>
#include <stdlib.h>

#include "depth_network.h"
#include "weights.h"

int main(int count, char **words) {
  double features[INPUTS];
  int16_t inputs[INPUTS], one[WIDEST], other[WIDEST];
  int32_t outputs[OUTPUTS];
  int times = count > 1 ? atoi(words[1]) : 1;
  for (;;) {
    for (int i = 0; i < INPUTS; i++) {
      if (scanf("%la", &features[i]) != 1) {
        return 0;
      }
    }
    for (int t = 0; t < times; t++) {
      depth_normalise(&NETWORK, features, inputs);
      depth_run(&NETWORK, inputs, one, other, outputs);
    }
    for (int j = 0; j < OUTPUTS; j++) {
      printf("%ld%c", (long)outputs[j], j < OUTPUTS - 1 ? ' ' : '\n');
    }
  }
}
