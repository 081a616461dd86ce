package org.stopwell.rig.calibration;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.rig.calibration.Attendant.Question;
import org.stopwell.rig.calibration.Attendant.Wanted;

class AttendantTest {
  private final List<String> told = new ArrayList<>();
  private final List<Question> asked = new ArrayList<>();

  @ParameterizedTest
  @CsvSource({
    "12,      12000",
    "' 1.25 ', 1250",
    "'1,25',   1250",
    "-100,  -100000",
    "200,    200000",
  })
  void aNumberWithinTheLimitsIsTaken(String typed, long thousandths) {
    assertEquals(Optional.of(thousandths), typing(typed).thousandths("Indicator", "µm", -100, 200));
    assertEquals(List.of(new Question(Wanted.NUMBER, "Indicator", "µm")), asked);
    assertEquals(List.of(), told);
  }

  @ParameterizedTest
  @CsvSource({
    "200.001, '200.001 is outside -100.0 to 200.0 µm'",
    "-100.1,  '-100.1 is outside -100.0 to 200.0 µm'",
    "1.2345,  '\"1.2345\" is not a number of at most 3 decimals'",
    "ten,     '\"ten\" is not a number of at most 3 decimals'",
  })
  void anyOtherAnswerIsExplainedAndAskedForAgain(String typed, String explained) {
    assertEquals(Optional.of(7_000L), typing(typed, "7").thousandths("Indicator", "µm", -100, 200));
    assertEquals(List.of(explained), told);
    assertEquals(2, asked.size());
  }

  @Test
  void withoutAnAnswerThereIsNoNumber() {
    assertEquals(Optional.empty(), typing().thousandths("Indicator", "µm", 0, 1));
    assertEquals(Optional.empty(), Attendant.NOBODY.thousandths("Indicator", "µm", 0, 1));
  }

  @ParameterizedTest
  @CsvSource({"y, true", "' Y ', true", "yes, false", "n, false"})
  void onlyTheLetterYSaysThatItIsDone(String typed, boolean done) {
    assertEquals(done, typing(typed).asked("Take the block out."));
    assertEquals(List.of(new Question(Wanted.DONE, "Take the block out.", "")), asked);
  }

  @Test
  void wordsComeWithoutTheSpacesAroundThem() {
    assertEquals(Optional.of("A. B."), typing(" A. B. ").words("Who?"));
    assertEquals(List.of(new Question(Wanted.WORDS, "Who?", "")), asked);
    assertEquals(Optional.empty(), typing().words("Who?"));
  }

  private Attendant typing(String... typed) {
    Iterator<String> answers = List.of(typed).iterator();
    return new Attendant() {
      @Override
      public void tell(String text) {
        told.add(text);
      }

      @Override
      public Optional<String> answer(Question question) {
        asked.add(question);
        return answers.hasNext() ? Optional.of(answers.next()) : Optional.empty();
      }
    };
  }
}
