package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.StopController;
import org.stopwell.core.depth.LengthRecord;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.sense.LearnedCanal;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;

class LearnedCanalFileTest {
  private static final LengthRecord LENGTH =
      new LengthRecord(
          18_250, 500, 3, 3, 40, "cusp", 50, 90, 15, LengthRecord.Radiograph.NOT_TAKEN);

  @TempDir Path directory;

  private static Scene scene() throws Exception {
    return new Population(31_338).member(2, Fill.HALF_WET, Training.FREQUENCIES);
  }

  private static StopController controller() throws Exception {
    return new StopController(Estimator.APPROACH.settings(scene(), Map.of()));
  }

  private LearnedCanal learned() throws Exception {
    Visit visit = new Visit(Estimator.APPROACH.settings(scene(), Map.of()));
    visit.work(scene(), Stage.LENGTH);
    return visit.learned().orElseThrow();
  }

  private static String refusal(Path file) {
    return String.valueOf(
        assertThrows(IOException.class, () -> LearnedCanalFile.read(file)).getMessage());
  }

  @Test
  void whatTheLengthStageLearnedComesBackFromTheFileAndIsTakenUp() throws Exception {
    LearnedCanal canal = learned();
    Path file = directory.resolve("canal.json");
    LearnedCanalFile.write(file, canal, Optional.of(LENGTH));
    LearnedCanal read = LearnedCanalFile.read(file);
    assertEquals(canal.weights(), read.weights());
    assertArrayEquals(canal.numbers(), read.numbers());
    assertTrue(Files.readString(file).contains("\"length_mm\":18.25"));
    StopController next = controller();
    assertTrue(next.learned().isEmpty());
    assertTrue(next.recall(read));
    assertArrayEquals(canal.numbers(), next.learned().orElseThrow().numbers());
  }

  @Test
  void whatOtherWeightsLearnedIsNotTakenUp() throws Exception {
    StopController next = controller();
    assertFalse(next.recall(new LearnedCanal(1, new double[LearnedCanal.NUMBERS])));
    assertTrue(next.learned().isEmpty());
  }

  @Test
  void aPolicyThatDoesNotLearnTakesNothingUp() throws Exception {
    StopController ratio = new StopController(Estimator.RATIO.settings(scene(), Map.of()));
    assertFalse(ratio.recall(new LearnedCanal(1, new double[LearnedCanal.NUMBERS])));
  }

  @Test
  void everyMistakeInAFileIsNamedAtOnce() throws Exception {
    Path file = directory.resolve("canal.json");
    Files.writeString(
        file, "{\"format\": \"x\", \"version\": 7, \"weights\": \"g\", \"numbers\": \"none\"}");
    String message = refusal(file);
    for (String part : new String[] {"canal.json", "format is x", "version is 7", "g", "numbers"}) {
      assertTrue(message.contains(part), message);
    }
    Files.writeString(file, "{");
    assertThrows(IOException.class, () -> LearnedCanalFile.read(file));
    Files.writeString(
        file,
        "{\"format\": \"stopwell-learned-canal\", \"version\": 1, \"weights\": \"1\","
            + " \"numbers\": [1, 2]}");
    message = refusal(file);
    assertTrue(message.contains("not 2"), message);
  }
}
