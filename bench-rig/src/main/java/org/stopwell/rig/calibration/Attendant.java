package org.stopwell.rig.calibration;

import java.math.BigDecimal;
import java.util.Optional;
import org.stopwell.rig.proof.Operator;

/**
 * Who does at a bench what a step asks for, and reads the reference instrument: at a terminal, at a
 * page of the console, or out of a file. One question at a time, one answer to each.
 */
public interface Attendant extends Operator {
  /** Nobody is there. */
  Attendant NOBODY =
      new Attendant() {
        @Override
        public void tell(String text) {}

        @Override
        public Optional<String> answer(Question question) {
          return Optional.empty();
        }
      };

  /** What is wanted as an answer. */
  enum Wanted {
    /** A number. */
    NUMBER,
    /** Words. */
    WORDS,
    /** That it is done: {@code y}. */
    DONE
  }

  /**
   * A question.
   *
   * @param wanted what is wanted as an answer
   * @param text what to do and what to read
   * @param unit unit of the answer, empty when it has none
   */
  record Question(Wanted wanted, String text, String unit) {}

  /**
   * Says something.
   *
   * @param text a sentence or two
   */
  void tell(String text);

  /**
   * Asks.
   *
   * @param question the question
   * @return the answer as typed, not blank; empty without an answer
   */
  Optional<String> answer(Question question);

  @Override
  default boolean asked(String request) {
    return answer(new Question(Wanted.DONE, request, ""))
        .filter(typed -> typed.strip().equalsIgnoreCase("y"))
        .isPresent();
  }

  /**
   * Asks for words.
   *
   * @param question what to say
   * @return the words; empty without an answer
   */
  default Optional<String> words(String question) {
    return answer(new Question(Wanted.WORDS, question, "")).map(String::strip);
  }

  /**
   * Asks until a number within limits comes, with at most three decimals. A decimal comma counts as
   * a point.
   *
   * @param question what to do and what to read
   * @param unit unit of the answer
   * @param low least allowed, in that unit
   * @param high most allowed
   * @return the number in thousandths of the unit; empty without an answer
   */
  default Optional<Long> thousandths(String question, String unit, double low, double high) {
    while (true) {
      Optional<String> typed = answer(new Question(Wanted.NUMBER, question, unit));
      if (typed.isEmpty()) {
        return Optional.empty();
      }
      String text = typed.get().strip();
      try {
        BigDecimal number = new BigDecimal(text.replace(',', '.'));
        if (number.doubleValue() >= low && number.doubleValue() <= high) {
          return Optional.of(number.movePointRight(3).longValueExact());
        }
        tell((number + " is outside " + low + " to " + high + " " + unit).strip());
      } catch (NumberFormatException | ArithmeticException e) {
        tell("\"" + text + "\" is not a number of at most 3 decimals");
      }
    }
  }
}
