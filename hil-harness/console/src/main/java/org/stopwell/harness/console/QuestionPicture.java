package org.stopwell.harness.console;

import java.util.Locale;

/**
 * The picture beside a question to the person at the bench. Pictures are chosen by a word of the
 * question, the first that fits, so that no bench needs to know of pages.
 */
enum QuestionPicture {
  /** Press the emergency stop. */
  PRESS_STOP("press the emergency stop"),
  /** Release the emergency stop. */
  RELEASE_STOP("release the emergency stop"),
  /** The motor turns now. */
  MOTOR("the motor turns"),
  /** Take the file out of its clamp and clamp it anew. */
  CLAMP("out of its clamp"),
  /** Nobody touches what moves by itself. */
  CLEAR("hands away|all is clear"),
  /** Plug in the board. */
  PLUG("plug the"),
  /** Measure one part with a meter. */
  METER("by the meter|as in calibration.h"),
  /** Count parts. */
  COUNT("how many"),
  /** A gauge block at the stop of the stage. */
  BLOCK("gauge block|take the block out"),
  /** Put the clips on. */
  CLIPS("lip clip"),
  /** Mount a tooth. */
  MOUNT("mount tooth"),
  /** Fill the canal. */
  FILL("fill the canal"),
  /** Dry the canal. */
  DRY("dry the canal"),
  /** The tip at the reference point. */
  TOUCH("reference point"),
  /** Draw the file up. */
  WITHDRAW("withdraw the file"),
  /** Read the indicator. */
  INDICATOR("indicator"),
  /** Read the thermometer. */
  THERMOMETER("temperature"),
  /** A certificate. */
  PAPER("certificate|reference instrument|uncertainty|coverage"),
  /** A name. */
  PERSON("operator code"),
  /** Move the stage by hand. */
  STAGE("the stage");

  private final String words;

  QuestionPicture(String words) {
    this.words = words;
  }

  /** The name of the picture for a question; empty when none fits. */
  static String of(String question) {
    String text = question.toLowerCase(Locale.ROOT);
    for (QuestionPicture picture : values()) {
      for (String word : picture.words.split("\\|", -1)) {
        if (text.contains(word)) {
          return picture.name().toLowerCase(Locale.ROOT);
        }
      }
    }
    return "";
  }
}
