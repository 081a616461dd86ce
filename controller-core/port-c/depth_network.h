/* The network of the depth estimate in whole numbers: bit for bit the one of the core. C99. */
#ifndef DEPTH_NETWORK_H
#define DEPTH_NETWORK_H

#include <stdint.h>

/* One layer: weights by output, then by input. */
typedef struct {
  int inputs;
  int outputs;
  const int8_t *weights;
  const int32_t *offsets;
  const int32_t *multipliers;
  int shift;
} depth_layer;

typedef struct {
  const float *mean;  /* of every input */
  const float *scale; /* one over the deviation of every input */
  const depth_layer *layers;
  int layer_count;
  int32_t leak; /* slope below zero, 1/32768 */
} depth_network;

/* Normalises features: 16 bits, 12 of them behind the point. */
void depth_normalise(const depth_network *network, const double *features, int16_t *inputs);

/* Works out the outputs, 16 bits behind the point. Each buffer is as long as the widest hidden layer. */
void depth_run(const depth_network *network, const int16_t *inputs, int16_t *one, int16_t *other,
               int32_t *outputs);

#endif
