package org.stopwell.harness.assess;

import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;

/** By which network of the bench a canal of the assessment is made. */
enum Network {
  /** That of half of the canals of the training: even members. */
  TRAINING("tooth"),
  /** One that the training has not met, though it was looked at while the training was made. */
  OTHER("lumped"),
  /** One that was not looked at before the weights were final. */
  THIRD("meshed");

  /** Its word for {@code canal.kind}. */
  final String kind;

  Network(String kind) {
    this.kind = kind;
  }

  /** That of a member: every other one of the training, the two others by turns. */
  static Network of(long member) {
    return member % 2 == 0 ? TRAINING : member % 4 == 1 ? OTHER : THIRD;
  }

  /** Of what came of all members in order, that of the members by this network. */
  List<Outcome> of(List<Outcome> all) {
    return IntStream.range(0, all.size()).filter(i -> of(i) == this).mapToObj(all::get).toList();
  }

  /** The word for it in tables. */
  String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
