/* The position filter of the control core in C99: a two-state Kalman filter in scalars.
 * The same operations in the same order as org.stopwell.core.sense.PositionFilter, so that the
 * results are the same bit for bit. Compile with -ffp-contract=off: a fused multiply-add rounds
 * once where Java rounds twice. */
#ifndef STOPWELL_POSITION_FILTER_H
#define STOPWELL_POSITION_FILTER_H

typedef struct {
  double acceleration_variance; /* (um/s^2)^2 */
  double x;                     /* distance, um */
  double v;                     /* change of the distance, um/s */
  double p00, p01, p11;         /* covariance */
} position_filter;

void position_filter_init(position_filter *f, double acceleration_sd);
void position_filter_start(position_filter *f, double z, double variance);
void position_filter_predict(position_filter *f, double dt_s);
void position_filter_update(position_filter *f, double z, double variance);

#endif
