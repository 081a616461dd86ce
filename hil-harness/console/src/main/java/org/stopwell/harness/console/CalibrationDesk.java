package org.stopwell.harness.console;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.time.MachineClock;

/**
 * Whoever sits at the page of a calibration, a proof or a campaign with questions. The page shows
 * one question at a time, with its number; an answer to any other number is refused, so that
 * neither a second click nor a second window answers what was not read. What moves is asked for
 * first, and was armed by whoever started the calibration at the machine itself.
 */
public final class CalibrationDesk implements Attendant {
  private static final long LOOK_NS = 20_000_000;
  private static final int FINAL_LOOKS = 250; // 5 s, for the page to show the end
  private static final int LINES = 500;
  private static final int LONGEST = 200;

  private String title;
  private volatile BooleanSupplier abandoned;
  private final List<String> said = new ArrayList<>();
  private @Nullable Question question;
  private @Nullable String typed;
  private long number;
  private boolean answered;
  private boolean left;
  private boolean finished;
  private boolean endShown;

  /**
   * A desk before the first question.
   *
   * @param title what is calibrated
   * @param abandoned true when the desk no longer waits for an answer
   */
  public CalibrationDesk(String title, BooleanSupplier abandoned) {
    this.title = title;
    this.abandoned = abandoned;
  }

  /**
   * Begins anew: what was said and left before is over.
   *
   * @param newTitle what asks now
   * @param newAbandoned true when the desk no longer waits for an answer
   */
  public synchronized void begin(String newTitle, BooleanSupplier newAbandoned) {
    title = newTitle;
    abandoned = newAbandoned;
    said.clear();
    left = false;
    finished = false;
  }

  @Override
  public synchronized void tell(String text) {
    if (text.isBlank()) {
      return;
    }
    said.add(text);
    if (said.size() > LINES) {
      said.remove(0);
    }
  }

  @Override
  public Optional<String> answer(Question asked) {
    ask(asked);
    while (isOpen() && !abandoned.getAsBoolean()) {
      MachineClock.waitNs(LOOK_NS);
    }
    return close();
  }

  private synchronized void ask(Question asked) {
    question = asked;
    typed = null;
    answered = left;
    number++;
  }

  private synchronized boolean isOpen() {
    return !answered;
  }

  private synchronized Optional<String> close() {
    Question asked = question;
    String answer = answered ? typed : null;
    if (asked != null && answer != null) {
      boolean done = asked.wanted() == Wanted.DONE;
      tell(asked.text() + (done ? " Done." : ": " + (answer + " " + asked.unit()).strip()));
    }
    question = null;
    answered = true;
    return Optional.ofNullable(answer);
  }

  /** Takes the answer to a question; blank leaves the step out. False when it is not asked. */
  synchronized boolean take(long toNumber, String answer) {
    if (question == null || answered || toNumber != number || answer.length() > LONGEST) {
      return false;
    }
    typed = answer.isBlank() ? null : answer.strip();
    answered = true;
    return true;
  }

  /** Nothing more is answered. */
  synchronized void leave() {
    left = true;
    typed = null;
    answered = true;
  }

  /**
   * Whether no answer can come any more.
   *
   * @return true once the page, or whoever started it, has broken off
   */
  public synchronized boolean isLeft() {
    return left || abandoned.getAsBoolean();
  }

  /**
   * Says how it ended, and lets the page show it if it is still open.
   *
   * @param words how it ended
   */
  public void finish(String words) {
    synchronized (this) {
      tell(words);
      finished = true;
    }
    for (int i = 0; i < FINAL_LOOKS && !isEndShown() && !abandoned.getAsBoolean(); i++) {
      MachineClock.waitNs(LOOK_NS);
    }
  }

  private synchronized boolean isEndShown() {
    return endShown || number == 0;
  }

  /** What the page shows. */
  synchronized Map<String, Object> state() {
    Map<String, Object> state = new LinkedHashMap<>();
    state.put("armed", true);
    state.put("title", title);
    state.put("said", List.copyOf(said));
    state.put("finished", finished);
    endShown = finished;
    Question asked = question;
    if (asked != null && !answered) {
      state.put("number", number);
      state.put("wanted", asked.wanted().name().toLowerCase(Locale.ROOT));
      state.put("text", asked.text());
      state.put("picture", QuestionPicture.of(asked.text()));
      state.put("unit", asked.unit());
    }
    return state;
  }
}
