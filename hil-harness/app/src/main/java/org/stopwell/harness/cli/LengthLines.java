package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.Locale;
import org.stopwell.harness.length.LengthRecord;
import org.stopwell.harness.length.Radiograph;
import org.stopwell.harness.length.Recheck;
import org.stopwell.harness.length.Shortening;
import org.stopwell.harness.trial.Verdict;

/** Lengths, radiographs and rechecks in words. */
final class LengthLines {
  private final PrintWriter out;

  LengthLines(PrintWriter out) {
    this.out = out;
  }

  void length(LengthRecord length) {
    print(
        "length %.2f mm from %s, %.2f mm short of the foramen; U = %.2f mm (95 %%, k = %.2f, %s"
            + " degrees of freedom)",
        length.lengthMicrons() / 1e3,
        length.method().reference().point(),
        length.standoffMicrons() / 1e3,
        length.uncertaintyMicrons() / 1e3,
        length.uncertainty().coverageFactor(),
        length.uncertainty().freedom());
    print(
        "%d of %d length readings agree within %.3f mm; the length is the mean of %d, from least"
            + " to greatest %.3f mm",
        length.agreeing(),
        length.taken(),
        length.method().rangeMicrons() / 1e3,
        length.used(),
        length.spreadMicrons() / 1e3);
    if (length.used() < length.taken()) {
      print(
          "left out, too far from the median: %d length readings; measure again if you do not"
              + " know why",
          length.taken() - length.used());
    }
    out.println(LengthRecord.CAVEAT);
    if (length.boundMicrons() > 0) {
      print(
          "The locator states its distance within %.2f mm, 95 times in 100.",
          length.boundMicrons() / 1e3);
    }
  }

  /** What a radiograph says about a length, and what practice makes of it. */
  Verdict radiograph(Radiograph found) {
    found
        .tipToApexMicrons()
        .ifPresent(
            tip ->
                print(
                    "radiograph: the tip is %.2f mm %s the radiographic apex, limit %.2f mm. The"
                        + " apex on a film lies typically 0 to 3 mm beyond the foramen.",
                    Math.abs(tip) / 1e3,
                    tip < 0 ? "past" : "short of",
                    found.limitMicrons() / 1e3));
    if (!found.contradicts()) {
      return Verdict.PASS;
    }
    out.println(
        "The radiograph contradicts this length: do not use it. Common practice: measure again and"
            + " take another radiograph.");
    return Verdict.UNDECIDED;
  }

  /** Whether a length has changed, and what such a recheck can find. */
  Verdict recheck(Recheck recheck, String alloy) {
    LengthRecord before = recheck.before();
    LengthRecord now = recheck.now();
    print(
        "%s: %+.2f mm, limit ± %.2f mm; %.2f mm ± %.2f mm before (file size %d), %.2f mm ± %.2f mm"
            + " now (file size %d)",
        recheck.changed()
            ? "the length has changed"
            : "the length has not changed beyond both uncertainties",
        recheck.changeMicrons() / 1e3,
        recheck.limitMicrons() / 1e3,
        before.lengthMicrons() / 1e3,
        before.uncertaintyMicrons() / 1e3,
        before.fileSize(),
        now.lengthMicrons() / 1e3,
        now.uncertaintyMicrons() / 1e3,
        now.fileSize());
    Shortening expected = Shortening.of(alloy);
    print(
        "This recheck finds a change of %.2f mm nine times in ten. Shaping straightens a curved"
            + " canal: %.2f mm shorter with %s, %.2f mm if flared first (J Endod 2002;28(6),"
            + " abstract).%s",
        recheck.detectableMicrons() / 1e3,
        expected.wholeMicrons() / 1e3,
        alloy,
        expected.flaredMicrons() / 1e3,
        recheck.detectableMicrons() > expected.wholeMicrons() ? " It can miss such a change." : "");
    out.println(
        "A locator need not err by the same in a canal before and after shaping. The limit does not"
            + " include that difference.");
    if (now.fileSize() <= before.fileSize()) {
      print(
          "The file of the recheck, size %d, is not larger than that of the length, size %d.",
          now.fileSize(), before.fileSize());
    }
    return recheck.changed() ? Verdict.FAIL : Verdict.PASS;
  }

  private void print(String format, Object... args) {
    out.println(String.format(Locale.ROOT, format, args));
  }
}
