int stopwell_learned(stopwell_canal *canal) {
  const struct DepthEstimate *estimate = stopwell_estimate;
  int i;
  if (!estimate->recorded) return 0;
  canal->weights_fingerprint = stopwell_weights_fingerprint;
  for (i = 0; i < STOPWELL_CANAL_NUMBERS; i++) {
    canal->numbers[i] = ((const double *)estimate->record)[i];
  }
  return 1;
}

int stopwell_recall(const stopwell_canal *canal) {
  struct LearnedCanal *to = stopwell_frame_canal;
  int i;
  to->weights = (int64_t)canal->weights_fingerprint;
  for (i = 0; i < STOPWELL_CANAL_NUMBERS; i++) {
    ((double *)to->numbers)[i] = canal->numbers[i];
  }
  return @WILD@(to) == STOPWELL_CANAL_NUMBERS && @RECALL@(stopwell_controller, to) != 0;
}
