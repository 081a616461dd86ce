#include "depth_network.h"

#include <math.h>

enum { REACH = 5, INPUT_UNIT = 1 << 12, MOST = 32767 };

static const int64_t MOST_HIDDEN = 1 << 24;
static const int64_t MOST_OUTPUT = 256 << 16;
static const int32_t MOST_LOG = 3 << 16;

static int64_t held(int64_t value, int64_t most) {
  return value > most ? most : value < -most ? -most : value;
}

/* A shift of a negative number is arithmetic with gcc and clang. */
static int64_t output(const depth_layer *layer, int j, const int16_t *from, int64_t most) {
  const int8_t *w = layer->weights + (int32_t)j * layer->inputs;
  int32_t sum = layer->offsets[j];
  for (int i = 0; i < layer->inputs; i++) {
    sum += (int32_t)w[i] * from[i];
  }
  int64_t half = (int64_t)1 << (layer->shift - 1);
  return held(((int64_t)sum * layer->multipliers[j] + half) >> layer->shift, most);
}

void depth_normalise(const depth_network *network, const double *features, int16_t *inputs) {
  for (int i = 0; i < network->layers[0].inputs; i++) {
    double z = (features[i] - network->mean[i]) * network->scale[i];
    z = z > REACH ? REACH : z < -REACH ? -REACH : z;
    inputs[i] = (int16_t)floor(z * INPUT_UNIT + 0.5);
  }
}

void depth_run(const depth_network *network, const int16_t *inputs, int16_t *one, int16_t *other,
               int32_t *outputs) {
  const int16_t *from = inputs;
  int last = network->layer_count - 1;
  for (int l = 0; l < last; l++) {
    const depth_layer *layer = &network->layers[l];
    int16_t *to = l % 2 == 0 ? one : other;
    for (int j = 0; j < layer->outputs; j++) {
      int64_t value = output(layer, j, from, MOST_HIDDEN);
      value = value < 0 ? (value * network->leak + 16384) >> 15 : value;
      to[j] = (int16_t)held(value, MOST);
    }
    from = to;
  }
  const depth_layer *layer = &network->layers[last];
  for (int j = 0; j < layer->outputs; j++) {
    int32_t value = (int32_t)output(layer, j, from, MOST_OUTPUT);
    outputs[j] = j < layer->outputs / 2 ? value : (int32_t)held(value, MOST_LOG);
  }
}
