package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.Page;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The guards of the browser tests notice what they are for. */
class BrowserGuardsTest extends BrowserTest {
  @TempDir Path dir;

  private Page shown(String head, String body) throws IOException {
    return open(
        Files.writeString(
            dir.resolve("page.html"),
            "<!DOCTYPE html><html lang=en><meta charset=utf-8><title>Guards</title>"
                + head
                + "<main><h1>Guards</h1>"
                + body
                + "</main></html>"));
  }

  @Test
  void aPageInOrderPasses() throws IOException {
    Page page =
        shown(
            "",
            "<p tabindex=0 style='overflow-x: auto'><span style='padding: 900px'>ok</span></p>");
    noSidewaysScroll(page);
    accessible(page);
  }

  @Test
  void paleTextIsNoticed() throws IOException {
    Page page = shown("", "<p style='color: #bbb'>pale</p>");
    AssertionError found = assertThrows(AssertionError.class, () -> accessible(page));
    assertTrue(found.toString().contains("color-contrast"), found.toString());
  }

  @Test
  void whatIsTooWideIsNamed() throws IOException {
    Page page = shown("", "<p id='broad' style='width: 1400px'>broad</p>");
    AssertionError found = assertThrows(AssertionError.class, () -> noSidewaysScroll(page));
    assertTrue(found.toString().contains("broad"), found.toString());
  }

  @Test
  void requestsErrorsAndForbiddenScriptsAreNoticed() throws IOException {
    shown("", "<img alt='' src='http://192.0.2.1/a.png'>");
    assertEquals(List.of("a request leaves this machine: http://192.0.2.1/a.png"), takeFaults());
    shown("", "<script>throw new Error('broken')</script>");
    assertTrue(takeFaults().toString().contains("broken"));
    shown(
        "<meta http-equiv=Content-Security-Policy content=\"script-src 'none'\">",
        "<script>let a = 1</script>");
    assertTrue(takeFaults().toString().contains("Content Security Policy"));
  }
}
