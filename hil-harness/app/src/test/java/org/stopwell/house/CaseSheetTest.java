package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.Media;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.casework.SampleCase;
import org.stopwell.harness.cli.Main;

/** The page of a tooth with four canals, as it is printed and as it is seen. */
class CaseSheetTest extends BrowserTest {
  private static final Pattern SHEET = Pattern.compile("/Type\\s*/Page\\b(?!s)");

  @TempDir Path dir;

  @Test
  void fourCanalsPrintOnOneSheetOfA4AndOfLetterPaper() throws Exception {
    SampleCase.write(dir);
    Path file = dir.resolve("page.html");
    StringWriter said = new StringWriter();
    PrintWriter out = new PrintWriter(said);
    String[] command = {"case", "page", dir.toString(), "--out", file.toString()};
    assertEquals(0, Main.run(command, out, out), said::toString);
    Page page = open(file);
    inEveryLook(page, "case");
    documented(page, "case");
    onPaper(page, "case-paper");
    page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.PRINT));
    for (String paper : new String[] {"A4", "Letter"}) {
      byte[] pdf = page.pdf(new Page.PdfOptions().setFormat(paper).setPreferCSSPageSize(false));
      String text = new String(pdf, StandardCharsets.ISO_8859_1);
      assertEquals(1, SHEET.matcher(text).results().count(), paper);
    }
  }
}
