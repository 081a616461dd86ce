/* This controller does not learn a canal. */
int stopwell_learned(stopwell_canal *canal) {
  (void)canal;
  return 0;
}

int stopwell_recall(const stopwell_canal *canal) {
  (void)canal;
  return 0;
}
