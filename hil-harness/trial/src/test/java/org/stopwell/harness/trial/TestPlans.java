package org.stopwell.harness.trial;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Objects;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;

/** Plans and benches that the harness tests share. */
public final class TestPlans {
  private TestPlans() {}

  /** The shipped plan of that name. */
  public static Path file(String name) {
    return root().resolve("docs/plans/" + name + ".yaml");
  }

  /**
   * The benchmark plan.
   *
   * @param policy {@code ratio}, or {@code approach} for the same trials under the estimate
   */
  public static Plan scale(String policy) throws PlanException {
    String settings = policy.equals("ratio") ? "ratio" : "length";
    Path plan = file("scale");
    return Plan.read(
        Source.of(plan), Source.of(plan.resolveSibling("../settings/" + settings + ".yaml")));
  }

  /** A device on a network of resistors, at a quick hand: short trials. */
  public static Plan device(int trials) throws PlanException {
    String settings = Source.of(root().resolve("docs/settings/resistance.yaml")).text();
    String plan =
        """
        plan: 1
        name: device
        settings: settings.yaml
        stage: length
        seed: 3
        trials: %d
        time_limit_s: 20
        controller: external
        device: {model: own, unit: u1, operator: op-1, firmware: "1.0", setting: s5, standoff_mm: 0.5, battery: full}
        scene:
          canal: {kind: resistors, length_mm: 6, body_ohm: 6500}
          hand: {motion: steady, feed_mm_per_s: 1, passive_mm: 3}
        """
            .formatted(trials);
    return Plan.read(new Source("device.yaml", plan), new Source("settings.yaml", settings));
  }

  /** The directory that holds the launcher. */
  public static Path root() {
    Path here = Path.of("").toAbsolutePath();
    while (!Files.exists(here.resolve("stopwell"))) {
      here = Objects.requireNonNull(here.getParent(), "no launcher above this directory");
    }
    return here;
  }

  /**
   * A network of resistors to stop in and a leaking one to refuse, at a quick hand: short trials.
   */
  public static Plan quick(int trials) throws PlanException {
    String settings =
        Source.of(file("first-stop").resolveSibling("../settings/resistance.yaml")).text();
    String plan =
        """
        plan: 1
        name: quick
        settings: settings.yaml
        stage: length
        seed: 3
        trials: %d
        time_limit_s: 30
        scene:
          canal: {kind: resistors, length_mm: 8}
          hand: {feed_mm_per_s: 1, passive_mm: 6}
        factors:
          network:
            sound:
              canal: {body_ohm: 6500}
            leaking:
              expect: refuse
              canal: {shunt_ohm: 2500}
        """
            .formatted(trials);
    return Plan.read(new Source("quick.yaml", plan), new Source("settings.yaml", settings));
  }
}
