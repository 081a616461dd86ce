package org.stopwell.harness.explore;

import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** The worst trials, at most a fixed number. Of two equally bad ones, the earlier counts. */
final class WorstCases {
  /** A trial and how bad it is. */
  record Case(long trial, long badness) {}

  private static final Comparator<Case> ORDER =
      Comparator.comparingLong(Case::badness).reversed().thenComparingLong(Case::trial);

  private final int most;
  private final List<Case> cases = new ArrayList<>();

  WorstCases(int most) {
    this.most = most;
  }

  void add(long trial, long badness) {
    Case added = new Case(trial, badness);
    if (cases.size() == most && ORDER.compare(added, cases.get(most - 1)) >= 0) {
      return;
    }
    int at = cases.size();
    while (at > 0 && ORDER.compare(added, cases.get(at - 1)) < 0) {
      at--;
    }
    cases.add(at, added);
    if (cases.size() > most) {
      cases.remove(most);
    }
  }

  void addAll(WorstCases other) {
    other.cases.forEach(c -> add(c.trial(), c.badness()));
  }

  List<Case> cases() {
    return List.copyOf(cases);
  }

  void write(DataOutputStream out) throws IOException {
    out.writeInt(cases.size());
    for (Case c : cases) {
      out.writeLong(c.trial());
      out.writeLong(c.badness());
    }
  }

  static WorstCases read(DataInputStream in, int most) throws IOException {
    WorstCases worst = new WorstCases(most);
    int count = in.readInt();
    if (!(count >= 0 && count <= most)) {
      throw new IOException("more worst cases than are kept");
    }
    for (int i = 0; i < count; i++) {
      worst.add(in.readLong(), in.readLong());
    }
    return worst;
  }
}
