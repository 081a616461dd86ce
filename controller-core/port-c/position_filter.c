#include "position_filter.h"

#include <math.h>

static const double PI = 3.14159265358979323846;
static const double START_SPEED_SD = 2000;   /* um/s */
static const double STROKE_COHERENCE = 2;    /* s */
static const double MOST_AHEAD = 2.6;        /* rad */
static const double LEAST_SWING = 150;       /* um */
static const double SHARE = 0.5;

static double least(double a, double b) { return a < b ? a : b; }
static double most(double a, double b) { return a > b ? a : b; }

static void rate_update(stroke_rate *r, double dt, double place, double change) {
  int outwards = change > 0, turns = r->outwards != outwards;
  r->outwards = outwards;
  if (turns && fabs(place - r->turned_at) >= LEAST_SWING) {
    if (r->turned) {
      double seen = most(2 * PI / 3, least(2 * PI * 3, PI / r->since_turn));
      r->radians_per_s += SHARE * (seen - r->radians_per_s);
    }
    r->turned = 1;
    r->turned_at = place;
    r->since_turn = 0;
  }
  r->since_turn += dt;
}

static void turn(const position_filter *f, double dt, double *cosine, double *sine) {
  double half = least(f->rate.radians_per_s * dt, MOST_AHEAD) / 2;
  double square = half * half;
  double up = half * (15 - square), below = 15 - 6 * square;
  double scale = 1 / ((1 + dt / STROKE_COHERENCE) * (below * below + up * up));
  *cosine = scale * (below * below - up * up);
  *sine = scale * 2 * up * below;
}

void position_filter_init(position_filter *f, double feed_sd, double stroke_sd) {
  *f = (position_filter){0};
  f->feed_variance = feed_sd * feed_sd;
  f->stroke_variance = stroke_sd * stroke_sd;
  f->rate.radians_per_s = 2 * PI;
}

void position_filter_start(position_filter *f, double z, double variance) {
  f->x = z;
  f->v = f->s = f->u = 0;
  f->a00 = variance;
  f->a01 = 0;
  f->a11 = START_SPEED_SD * START_SPEED_SD;
  f->b00 = f->b01 = 0;
  f->b11 = f->stroke_variance;
  f->rate.since_turn = f->rate.turned_at = 0;
  f->rate.turned = 0;
  f->c00 = f->c01 = f->c10 = f->c11 = 0;
}

void position_filter_predict(position_filter *f, double dt) {
  double noise = f->feed_variance * dt;
  f->x += f->v * dt;
  f->a00 += dt * (2 * f->a01 + dt * f->a11) + noise * dt * dt / 4;
  f->a01 += dt * f->a11 + noise * dt / 2;
  f->a11 += noise;

  double cosine, sine;
  rate_update(&f->rate, dt, f->s, f->u);
  turn(f, dt, &cosine, &sine);
  double before = f->s;
  f->s = cosine * f->s + sine * f->u;
  f->u = cosine * f->u - sine * before;
  double cc = cosine * cosine, ss = sine * sine, cs = cosine * sine;
  double mixed = f->b01, inner = f->b00;
  f->b00 = cc * inner + 2 * cs * mixed + ss * f->b11;
  f->b01 = (cc - ss) * mixed + cs * (f->b11 - inner);
  f->b11 = cc * f->b11 - 2 * cs * mixed + ss * inner + 2 * (1 - cc - ss) * f->stroke_variance;

  double xs = f->c00 + dt * f->c10, xu = f->c01 + dt * f->c11, vs = f->c10;
  f->c00 = cosine * xs + sine * xu;
  f->c01 = cosine * xu - sine * xs;
  f->c10 = cosine * vs + sine * f->c11;
  f->c11 = cosine * f->c11 - sine * vs;
}

void position_filter_update(position_filter *f, double z, double variance) {
  double hx = f->a00 + f->c00, hv = f->a01 + f->c10;
  double hs = f->b00 + f->c00, hu = f->b01 + f->c01;
  double weight = 1 / (hx + hs + variance);
  double pull = weight * (z - f->x - f->s);
  f->x += hx * pull;
  f->v += hv * pull;
  f->s += hs * pull;
  f->u += hu * pull;
  f->a00 -= weight * hx * hx;
  f->a01 -= weight * hx * hv;
  f->a11 -= weight * hv * hv;
  f->b00 -= weight * hs * hs;
  f->b01 -= weight * hs * hu;
  f->b11 -= weight * hu * hu;
  f->c00 -= weight * hx * hs;
  f->c01 -= weight * hx * hu;
  f->c10 -= weight * hv * hs;
  f->c11 -= weight * hv * hu;
}

double position_filter_distance(const position_filter *f) { return f->x + f->s; }

double position_filter_variance(const position_filter *f) { return f->a00 + 2 * f->c00 + f->b00; }

double position_filter_ahead(const position_filter *f, double dt) {
  double cosine, sine;
  turn(f, dt, &cosine, &sine);
  return f->x + f->v * dt + cosine * f->s + sine * f->u;
}
