package org.stopwell.harness.assess;

import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;

/** The electrical model by which the bench makes a canal of the assessment. */
enum ToothModel {
  /** The model of half of the training canals; even members. */
  TRAINING("tooth"),
  /** A model that is not trained on. The standard error was scaled on it, and choices compared. */
  OTHER("lumped"),
  /** A model that was kept from the training until the weights were final. */
  THIRD("meshed");

  /** Its word for {@code canal.kind}. */
  final String kind;

  ToothModel(String kind) {
    this.kind = kind;
  }

  /** The model of a member: the training model for even ones, the two others in turn. */
  static ToothModel of(long member) {
    return member % 2 == 0 ? TRAINING : member % 4 == 1 ? OTHER : THIRD;
  }

  /** The outcomes of the members with this model, from those of all members in order. */
  List<VisitOutcome> of(List<VisitOutcome> all) {
    return IntStream.range(0, all.size()).filter(i -> of(i) == this).mapToObj(all::get).toList();
  }

  /** The word for it in tables. */
  String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
