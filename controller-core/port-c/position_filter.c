#include "position_filter.h"

static const double START_SPEED_SD = 2000; /* um/s */

void position_filter_init(position_filter *f, double acceleration_sd) {
  f->acceleration_variance = acceleration_sd * acceleration_sd;
  f->x = f->v = f->p00 = f->p01 = f->p11 = 0;
}

void position_filter_start(position_filter *f, double z, double variance) {
  f->x = z;
  f->v = 0;
  f->p00 = variance;
  f->p01 = 0;
  f->p11 = START_SPEED_SD * START_SPEED_SD;
}

void position_filter_predict(position_filter *f, double dt) {
  double dt2 = dt * dt;
  f->x += f->v * dt;
  f->p00 += dt * (2 * f->p01 + dt * f->p11) + f->acceleration_variance * dt2 * dt2 / 4;
  f->p01 += dt * f->p11 + f->acceleration_variance * dt2 * dt / 2;
  f->p11 += f->acceleration_variance * dt2;
}

void position_filter_update(position_filter *f, double z, double variance) {
  double s = f->p00 + variance;
  double k0 = f->p00 / s;
  double k1 = f->p01 / s;
  double innovation = z - f->x;
  f->x += k0 * innovation;
  f->v += k1 * innovation;
  f->p11 -= k1 * f->p01;
  f->p01 -= k0 * f->p01;
  f->p00 -= k0 * f->p00;
}
