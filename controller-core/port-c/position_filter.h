/* The position filter of the control core in C99: a Kalman filter of a feed and of strokes in and
 * out about it, in scalars. The same operations in the same order as PositionFilter and StrokeRate
 * of org.stopwell.core.sense, so that the results are the same bit for bit. Compile with
 * -ffp-contract=off: a fused multiply-add rounds once where Java rounds twice. */
#ifndef STOPWELL_POSITION_FILTER_H
#define STOPWELL_POSITION_FILTER_H

typedef struct {
  double radians_per_s;
  double since_turn; /* s */
  double turned_at;  /* um */
  int outwards, turned;
} stroke_rate;

typedef struct {
  double feed_variance;      /* (um/s)^2 in one second */
  double stroke_variance;    /* um^2 */
  stroke_rate rate;          /* of the strokes */
  double x, v;               /* feed: distance, um, and its change, um/s */
  double s, u;               /* stroke: place, um, and its change over the angular rate, um */
  double a00, a01, a11;      /* covariance of x and v */
  double b00, b01, b11;      /* of s and u */
  double c00, c01, c10, c11; /* between them */
} position_filter;

void position_filter_init(position_filter *f, double feed_sd, double stroke_sd);
void position_filter_start(position_filter *f, double z, double variance);
void position_filter_predict(position_filter *f, double dt_s);
void position_filter_update(position_filter *f, double z, double variance);
double position_filter_distance(const position_filter *f);
double position_filter_variance(const position_filter *f);
double position_filter_ahead(const position_filter *f, double dt_s);

#endif
