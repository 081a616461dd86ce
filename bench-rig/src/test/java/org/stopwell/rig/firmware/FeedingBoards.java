package org.stopwell.rig.firmware;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.serial.BoardsBench;

/**
 * Device board and drive board as real binaries in one emulated time, coupled by the shank scale
 * and by the two lines of the device board.
 */
final class FeedingBoards extends EmulatedController {
  private static final long MS = 1_000_000;
  private static final int STEP_MS = 20;

  private final ControllerInput reading = new ControllerInput();
  private final ControllerOutput nothing = new ControllerOutput();
  private final List<String> lines = new CopyOnWriteArrayList<>();
  private final BoardsBench bench;
  private final DeviceWatch watch;
  private volatile String codes = "";
  private long nowMs;

  FeedingBoards() throws IOException, InterruptedException, BenchException {
    super("pair-emulator", List.of("device-board.elf", "drive-board.elf"));
    bench =
        new BoardsBench(bench("W-0001"), bench(await("drive-port ").split(" ", -1)[1], "D-0001"));
    listener(
        said -> {
          if (said.startsWith("lines ")) {
            lines.add(said);
          } else if (said.startsWith("codes ")) {
            codes = said;
          }
        });
    tell("wait 300");
    tell("drive play 10");
    bench.open();
    watch = bench.deviceWatch().orElseThrow();
    watch.attach(new ClampedDevice("m", "u", "s", 500, "full"));
  }

  BoardsBench bench() {
    return bench;
  }

  /** The relays of the chain, as they switched last since the mount; empty before. */
  String codes() {
    return codes;
  }

  /** Mounts a scene; from here on time goes on only with that of the test. */
  void mount(Scene scene) throws Exception {
    tell("wait 300");
    tell("spin 0");
    bench.mount(scene);
    watch.drain(new ArrayList<>());
    nowMs = 0;
    lines.clear();
    codes = "";
    tell("zero");
  }

  /** Lets so much time go by, with an exchange each 20 ms; all samples. */
  List<Watched> pass(int ms) throws Exception {
    List<Watched> seen = new ArrayList<>();
    for (int i = 0; i < ms; i += STEP_MS) {
      nowMs += STEP_MS;
      until(nowMs);
      bench.exchange(nowMs * MS, nothing, reading);
      watch.drain(seen);
    }
    return seen;
  }

  /** When the line of the device board said last that the file turns no more, µs. */
  long sensedStopMicros() {
    String last = "";
    boolean turned = false;
    for (String each : lines) {
      boolean turns = each.charAt("lines ".length()) == '1';
      last = turned && !turns ? each : last;
      turned = turns;
    }
    return Long.parseLong(last.split(" ", -1)[2]);
  }

  /** When the stage stepped last, µs. */
  long steppedMicros() throws Exception {
    forget();
    tell("drive tell");
    return Long.parseLong(await("stepped ").split(" ", -1)[1]);
  }

  @Override
  public void close() {
    bench.close();
    super.close();
  }
}
