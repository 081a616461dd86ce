package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.nio.ByteBuffer;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.trace.FrameCodec;

class StepCostTest {
  private static final int PASSES = 12;

  @Test
  void aStepAllocatesNothing() throws Exception {
    List<Recording.Step> steps = Recording.ofAWorkingLife();
    StopController controller =
        new StopController(ControllerSettings.of(Recording.settings(), TestBench.curve()));
    ControllerOutput out = new ControllerOutput();
    ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
    ByteBuffer bytes = ByteBuffer.allocate(FrameCodec.INPUT_BYTES + FrameCodec.OUTPUT_BYTES);
    ControllerInput in = new ControllerInput();
    long least = Long.MAX_VALUE;
    long hash = 0;
    for (int pass = 0; pass < PASSES; pass++) {
      long before = threads.getCurrentThreadAllocatedBytes();
      for (int i = 0; i < steps.size(); i++) {
        Recording.Step step = steps.get(i);
        bytes.clear();
        FrameCodec.put(step.in(), bytes);
        bytes.flip();
        FrameCodec.get(bytes, in);
        controller.step(step.nowNs(), in, out);
        hash ^= controller.stateHash();
      }
      least = Math.min(least, threads.getCurrentThreadAllocatedBytes() - before);
    }
    System.out.println(steps.size() + " steps per pass, hash " + hash);
    assertEquals(0, least, "bytes per " + steps.size() + " steps");
  }
}
