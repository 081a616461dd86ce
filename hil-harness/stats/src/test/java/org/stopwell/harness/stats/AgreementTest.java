package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Peak flow by two meters, two readings each: Bland and Altman, Lancet 1986; i: 307. */
class AgreementTest {
  private static final List<Long> LARGE_1 =
      Scaled.row("494 395 516 434 476 557 413 442 650 433 417 656 267 478 178 423 427", 0);
  private static final List<Long> LARGE_2 =
      Scaled.row("490 397 512 401 470 611 415 431 638 429 420 633 275 492 165 372 421", 0);
  private static final List<Long> MINI_1 =
      Scaled.row("512 430 520 428 500 600 364 380 658 445 432 626 260 477 259 350 451", 0);
  private static final List<Long> MINI_2 =
      Scaled.row("525 415 508 444 500 625 460 390 642 432 420 605 227 467 268 370 443", 0);

  @Test
  void theFirstReadingsOfThePaper() {
    List<Long> differences = new ArrayList<>();
    for (int i = 0; i < 17; i++) {
      differences.add(LARGE_1.get(i) - MINI_1.get(i));
    }
    LimitsOfAgreement agreement =
        LimitsOfAgreement.ofPairs(Scaled.moments(differences)).orElseThrow();
    assertEquals(-2.1, agreement.bias(), 0.05, "published");
    assertEquals(38.8, agreement.deviation(), 0.05, "published");
    assertEquals(-79.7, agreement.limits(2).low(), 0.06, "published, from rounded numbers");
    assertEquals(75.5, agreement.limits(2).high(), 0.09, "published, from rounded numbers");
    assertEquals(-78.097301611, agreement.limits(1.96).low(), 1e-8);
    assertEquals(73.862007493, agreement.limits(1.96).high(), 1e-8);
    assertEquals(16.3, agreement.limitError(), 0.05, "published");
    assertEquals(-22.0, agreement.biasInterval(0.95).low(), 0.05, "published");
    assertEquals(17.8, agreement.biasInterval(0.95).high(), 0.05, "published");
    assertEquals(-114.3, agreement.lowerLimitInterval(2, 0.95).low(), 0.15, "published");
    assertEquals(-45.1, agreement.lowerLimitInterval(2, 0.95).high(), 0.1, "published");
    assertEquals(40.9, agreement.upperLimitInterval(2, 0.95).low(), 0.1, "published");
    assertEquals(110.1, agreement.upperLimitInterval(2, 0.95).high(), 0.2, "published");
  }

  @Test
  void repeatedReadingsWidenTheLimitsByTheSpreadWithinASubject() {
    List<Moments> bySubject = new ArrayList<>();
    List<Long> first = new ArrayList<>();
    List<Long> second = new ArrayList<>();
    for (int i = 0; i < 17; i++) {
      first.add(LARGE_1.get(i) - MINI_1.get(i));
      second.add(LARGE_2.get(i) - MINI_2.get(i));
      bySubject.add(Scaled.moments(List.of(first.get(i), second.get(i))));
    }
    LimitsOfAgreement agreement = LimitsOfAgreement.ofRepeats(bySubject).orElseThrow();
    double mean = (sum(first) + sum(second)) / 34.0;
    assertEquals(mean, agreement.bias(), 1e-12);
    // By hand: variance of the subjects' means plus half the variance within a subject.
    double within = 0;
    double ofMeans = 0;
    for (int i = 0; i < 17; i++) {
      double d = first.get(i) - second.get(i);
      within += d * d / 2 / 17;
      ofMeans += Math.pow((first.get(i) + second.get(i)) / 2.0 - mean, 2) / 16;
    }
    assertEquals(Math.sqrt(ofMeans + within / 2), agreement.deviation(), 1e-9);
    assertEquals(17, agreement.subjects());
  }

  @Test
  void equalDifferencesHaveNoLimits() {
    assertEquals(Optional.empty(), LimitsOfAgreement.ofPairs(Moments.of(5, 20)));
    assertEquals(Optional.empty(), LimitsOfAgreement.ofPairs(Moments.NONE));
    assertEquals(
        Optional.empty(), LimitsOfAgreement.ofRepeats(List.of(Moments.of(5, 2), Moments.of(5, 2))));
  }

  private static long sum(List<Long> numbers) {
    return numbers.stream().mapToLong(Long::longValue).sum();
  }
}
