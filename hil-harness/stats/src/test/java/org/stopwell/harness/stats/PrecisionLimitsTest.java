package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class PrecisionLimitsTest {
  @TempDir Path dir;

  /**
   * Yields of dyestuff, six batches of five preparations (Davies and Goldsmith, Statistical Methods
   * in Research and Production, 4th edition 1972, 131). Published variances, as in the vignette of
   * lme4: 1764 between batches, 2451 within.
   */
  @Test
  void thePublishedDyestuffBatchesAreMet() {
    PrecisionLimits dye =
        PrecisionLimits.of(
                List.of(
                    List.of(
                        moments(1545, 1440, 1440, 1520, 1580),
                        moments(1540, 1555, 1490, 1560, 1495),
                        moments(1595, 1550, 1605, 1510, 1560),
                        moments(1445, 1440, 1595, 1465, 1545),
                        moments(1595, 1630, 1515, 1635, 1625),
                        moments(1520, 1455, 1450, 1480, 1445))))
            .orElseThrow();
    double within = Math.pow(dye.repeatability().orElseThrow(), 2);
    assertEquals(2451.25, within, 0.005);
    assertEquals(1764.05, Math.pow(dye.reproducibility(), 2) - within, 0.005);
    assertEquals(5, dye.betweenFreedom());
    assertEquals(24, dye.withinFreedom());
  }

  /** NIST StRD SiRstv, certified mean squares, in units of 0.0001 Ω·cm. */
  @Test
  void theCertifiedResistivityIsMet() {
    PrecisionLimits silicon =
        PrecisionLimits.of(
                List.of(
                    List.of(
                        moments(1963052, 1961240, 1961890, 1962569, 1963403),
                        moments(1963042, 1963825, 1961669, 1963257, 1960422),
                        moments(1961303, 1962005, 1962889, 1960343, 1961811),
                        moments(1962795, 1961748, 1961494, 1961485, 1959885),
                        moments(1962119, 1961051, 1961850, 1960052, 1962090))))
            .orElseThrow();
    assertEquals(1.27865654e-2, silicon.betweenMeanSquare() * 1e-8, 1e-10);
    assertEquals(1.08318280e-2, silicon.withinMeanSquare() * 1e-8, 1e-10);
    assertEquals(
        Math.sqrt(1.08318280e-2 + (1.27865654e-2 - 1.08318280e-2) / 5),
        silicon.reproducibility() * 1e-4,
        1e-9);
  }

  @Test
  void withoutRepeatsOnlyReproducibilityIsEstimable() {
    PrecisionLimits once =
        PrecisionLimits.of(List.of(List.of(moments(10), moments(14)), List.of(moments(3))))
            .orElseThrow();
    assertTrue(once.repeatability().isEmpty());
    assertEquals(Math.sqrt(8), once.reproducibility(), 1e-12);
    assertEquals(1, once.blocks());
    assertTrue(PrecisionLimits.of(List.of(List.of(moments(3, 4)))).isEmpty());
  }

  /** Teeth as blocks, operators as cells, unequal repeats: analysis of variance in R. */
  @Test
  void analysisOfVarianceInRAgrees() throws Exception {
    Random random = new Random(20261130);
    List<List<Moments>> blocks = new ArrayList<>();
    StringBuilder rows = new StringBuilder("tooth,operator,um\n");
    for (int tooth = 0; tooth < 9; tooth++) {
      List<Moments> cells = new ArrayList<>();
      for (int operator = 0; operator < 3; operator++) {
        long[] stops =
            LongStream.range(0, 1 + random.nextInt(3)).map(i -> random.nextInt(200) + 50).toArray();
        stops[0] += 300L * tooth + 40L * operator;
        cells.add(moments(stops));
        for (long um : stops) {
          rows.append('T' + Integer.toString(tooth) + ",o" + operator + "," + um + "\n");
        }
      }
      blocks.add(cells);
    }
    PrecisionLimits ours = PrecisionLimits.of(blocks).orElseThrow();
    Path csv = dir.resolve("stops.csv");
    Files.writeString(csv, rows);
    String script =
        """
        d <- read.csv('%s')
        a <- anova(lm(um ~ tooth + tooth:operator, d))
        n <- table(d$tooth, d$operator)
        n0 <- sum(rowSums(n) - rowSums(n^2) / rowSums(n)) / a$Df[2]
        sr2 <- a$"Mean Sq"[3]
        sR2 <- sr2 + max(0, (a$"Mean Sq"[2] - sr2) / n0)
        cat(format(c(sqrt(sr2), sqrt(sR2)), digits = 12), a$Df[2], a$Df[3])
        cat("\\n", min(which(pbinom(0, 1:400, 0.05) <= 0.05)),
            min(which(pbinom(1, 1:400, 0.05) <= 0.05)),
            min(which(pbinom(2, 1:400, 0.05) <= 0.05)), "\\n")
        """
            .formatted(csv);
    String[] said = r(script).strip().split("\\s+", -1);
    assertEquals(Double.parseDouble(said[0]), ours.repeatability().orElseThrow(), 1e-6);
    assertEquals(Double.parseDouble(said[1]), ours.reproducibility(), 1e-6);
    assertEquals(Integer.parseInt(said[2]), ours.betweenFreedom());
    assertEquals(Long.parseLong(said[3]), ours.withinFreedom());
    // 95/95 by teeth: exact binomial, as the non-parametric tolerance limit of ISO 16269-6.
    for (int misses = 0; misses <= 2; misses++) {
      int teeth = List.of(59, 93, 124).get(misses);
      assertEquals(teeth, Integer.parseInt(said[4 + misses]));
      assertEquals(teeth, SampleSize.trialsForShare(0.95, 0.95, misses).orElseThrow());
    }
  }

  private static String r(String script) throws IOException, InterruptedException {
    Process r = new ProcessBuilder("Rscript", "-e", script).redirectErrorStream(true).start();
    String out = new String(r.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertEquals(0, r.waitFor(), out);
    return out;
  }

  private static Moments moments(long... values) {
    return Moments.of(LongStream.of(values));
  }
}
