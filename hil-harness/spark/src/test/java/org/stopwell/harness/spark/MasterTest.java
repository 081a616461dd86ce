package org.stopwell.harness.spark;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.EngineException;
import org.stopwell.harness.explore.Finished;
import org.stopwell.harness.explore.RowSink;
import org.stopwell.rig.time.MachineClock;

/** The address of a cluster, and one that is not there. */
class MasterTest {
  @ParameterizedTest
  @CsvSource({
    "node1:7077, not an address of a cluster",
    "http://node1, not an address of a cluster",
    "spark://node1, is not HOST:PORT",
    "spark://:7077, is not HOST:PORT",
    "'', where is the cluster?"
  })
  void anAddressThatIsNoneIsRefused(String url, String why) {
    String message =
        String.valueOf(assertThrows(EngineException.class, () -> Master.of(url)).getMessage());
    assertTrue(message.contains(why), message);
    assertTrue(message.contains("--master"), message);
  }

  @Test
  void aClusterThatIsNotThereIsSaidAtOnce() throws IOException {
    int port;
    try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      port = free.getLocalPort();
    }
    String url = "spark://127.0.0.1:" + port;
    ToyWork work = ToyWork.of(10);
    SparkEngine engine =
        new SparkEngine(Master.of(url), new ShippedJars(List.of(), List.of()), 0, Optional.empty());
    long began = MachineClock.nowNs();
    EngineException e =
        assertThrows(
            EngineException.class,
            () ->
                engine.run(
                    work,
                    Finished.none(work),
                    RowSink.NOWHERE,
                    f -> {},
                    Engine.Watcher.NOBODY,
                    () -> false));
    assertTrue(MachineClock.nowNs() - began < 100_000_000_000L, "it waits for nobody");
    String message = String.valueOf(e.getMessage());
    assertTrue(message.contains(url + ": no master answers (127.0.0.1:" + port), message);
  }

  @Test
  void theKindOfClusterIsSeenInTheAddress() {
    assertTrue(Master.of("spark://127.0.0.1:7077").loopback());
    assertTrue(Master.of("local[2]").inThisProgram());
    assertFalse(Master.of("k8s://https://node1:6443").standalone());
    assertEquals("yarn", Master.of("yarn").url());
  }
}
