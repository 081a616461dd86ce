package org.stopwell.harness.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import org.stopwell.rig.calibration.Attendant;

/** Answers typed at the terminal or read from a file, one per line. */
final class TypedAnswers implements Attendant {
  private final BufferedReader typed;
  private final PrintWriter out;

  TypedAnswers(InputStream typed, PrintWriter out) {
    this.typed = new BufferedReader(new InputStreamReader(typed, StandardCharsets.UTF_8));
    this.out = out;
  }

  @Override
  public void tell(String text) {
    out.println("  " + text);
  }

  @Override
  public Optional<String> answer(Question question) {
    String unit = question.unit().isEmpty() ? "" : ", " + question.unit();
    String done = question.wanted() == Wanted.DONE ? " Done? [y/N]" : "";
    out.print("  " + question.text() + unit + done + ": ");
    out.flush();
    String answer;
    try {
      answer = typed.readLine();
    } catch (IOException e) {
      answer = null;
    }
    if (answer == null || answer.isBlank()) {
      out.println();
      return Optional.empty();
    }
    return Optional.of(answer.strip());
  }
}
