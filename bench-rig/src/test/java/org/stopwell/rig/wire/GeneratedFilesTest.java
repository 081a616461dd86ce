package org.stopwell.rig.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/**
 * What is made from the table of messages must not be older than the table. To write it anew:
 * {@code mvn -pl bench-rig -am test -Dtest=GeneratedFilesTest -Dstopwell.write=true}.
 */
class GeneratedFilesTest {
  private static final Path PAGE = Path.of("..", "docs", "wire-protocol.md");
  private static final Path HEADER = Path.of("firmware", "wire", "sw_messages.h");

  @Test
  void theProtocolPageHoldsTheTableOfMessages() throws IOException {
    checkBlock("messages", WireTables.messages());
  }

  @Test
  void theProtocolPageHoldsTheBoundsOfTheTimes() throws IOException {
    checkBlock("bounds", WireTables.bounds());
  }

  @Test
  void theProtocolPageSaysWhenABoardSendsEachError() throws IOException {
    checkBlock("errors", WireTables.errors());
  }

  @Test
  void theProtocolPageHoldsTheExampleFrames() throws IOException {
    checkBlock("examples", WireTables.examples());
  }

  /** Made from the page alone by a few lines of Python: bitwise CRC, split at zeros for COBS. */
  @Test
  void theFirstExamplesAreTheFramesThatAStrangerMadeFromThePage() {
    String stranger =
        """
        07 01 78 56 34 12 01 01 01 02 06 05 2D D6 19 20
        00
        07 04 78 56 34 12 03 01 01 14 0F 63 61 6E 61 6C
        2E 6C 65 6E 67 74 68 5F 6D 6D 03 FC 53 01 01 01
        01 01 01 05 9B E4 B2 85 00
        07 06 78 56 34 12 3C 01 01 05 40 78 7D 01 01 01
        01 05 02 E0 93 04 03 70 17 01 05 01 01 8E 0C 01
        03 90 01 01 02 02 06 01 62 0F 8D BF 00
        """;
    String ours =
        WireExamples.all().values().stream()
            .limit(3)
            .map(
                packet -> {
                  FrameWriter writer = new FrameWriter();
                  int length = writer.write(packet);
                  return WireTables.dump(writer.bytes(), length) + "\n";
                })
            .collect(Collectors.joining());
    assertEquals(stranger, ours);
  }

  @Test
  void theFirmwareHeaderIsMadeFromTheTableOfMessages() throws IOException {
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(HEADER, CHeader.text());
    }
    assertEquals(CHeader.text(), Files.readString(HEADER));
  }

  private static void checkBlock(String name, String wanted) throws IOException {
    String page = Files.readString(PAGE);
    String begin = "<!-- generated: " + name + " -->\n";
    int from = page.indexOf(begin) + begin.length();
    int to = page.indexOf("<!-- end: " + name + " -->");
    assertTrue(from >= begin.length() && to >= from, "no block " + name);
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(PAGE, page.substring(0, from) + wanted + "\n" + page.substring(to));
    } else {
      assertEquals(wanted + "\n", page.substring(from, to));
    }
  }
}
