package org.stopwell.harness.tryout;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;

/** One scene in two lanes: the same canal, file and hand, and a controller and a motor each. */
public final class TryMachine {
  /** Lanes of a scene. */
  public static final int LANES = 2;

  /** Seed of the population that {@code draw} draws from. */
  private static final long POPULATION = 1;

  private static final String FILE = "file";
  private static final String FLUID = "fluid";
  private static final String LEVEL = FLUID + "." + "level_mm";

  private final List<Lane> lanes;
  private final List<ControllerSettings> settings;
  private final Scene scene;
  private final SceneText text;
  private long levelMicrons;
  private boolean demand;

  private TryMachine(
      List<Lane> lanes, List<ControllerSettings> settings, Scene scene, SceneText text) {
    this.lanes = lanes;
    this.settings = settings;
    this.scene = scene;
    this.text = text;
    levelMicrons = scene.section(FLUID).get(FluidSection.LEVEL);
  }

  /**
   * Opens a scene. The file is above the orifice, the motor is off, and nobody demands motion.
   *
   * @param sceneText {@code key=value} pairs with {@code &} between them
   * @param settings what the lanes are made of
   * @return the scene
   * @throws SettingsException with every mistake: key, value, limit and unit
   */
  static TryMachine open(String sceneText, LaneSettings settings) throws SettingsException {
    SceneText text = new SceneText(sceneText);
    Stage stage = text.stage();
    Set<String> said = new LinkedHashSet<>();
    List<Fault> faults = new ArrayList<>();
    List<ControllerSettings> controllers = new ArrayList<>();
    List<Scene> scenes = new ArrayList<>();
    Map<String, String> file = text.section(FILE);
    for (int i = 0; i < LANES; i++) {
      try {
        ControllerSettings own =
            settings.of(
                text.reading(i),
                file.getOrDefault(FileSection.SIZE.key(), "15"),
                file.getOrDefault(FileSection.TAPER.key(), "0.04"),
                stage,
                text.stageKeys());
        controllers.add(own);
        scenes.add(scene(text, own, stage));
      } catch (SettingsException e) {
        e.faults().stream().filter(f -> said.add(f.message())).forEach(faults::add);
      }
    }
    if (!faults.isEmpty()) {
      throw new SettingsException(faults);
    }
    List<Lane> lanes = new ArrayList<>();
    for (int i = 0; i < LANES; i++) {
      lanes.add(new Lane(controllers.get(i), scenes.get(i), stage));
    }
    return new TryMachine(lanes, controllers, scenes.get(0), text);
  }

  private static Scene scene(SceneText text, ControllerSettings settings, Stage stage)
      throws SettingsException {
    Map<String, Map<String, String>> written = new LinkedHashMap<>();
    Scene.tables().keySet().forEach(s -> written.put(s, new LinkedHashMap<>(text.section(s))));
    ParameterValues values = settings.file(stage);
    Map<String, String> file = section(written, FILE);
    file.put(FileSection.SIZE.key(), FileParameters.SIZE.human(values.get(FileParameters.SIZE)));
    file.put(FileSection.TAPER.key(), FileSection.TAPER.human(values.get(FileParameters.TAPER)));
    file.putIfAbsent(
        FileSection.SHEAR_STRENGTH.key(),
        FileSection.SHEAR_STRENGTH.human(values.get(FileParameters.SHEAR_STRENGTH)));
    if (settings.stage(stage).choice(StageParameters.MOTION).equals(StageParameters.BACKWARD)) {
      file.putIfAbsent(FileSection.FLUTES.key(), FileSection.LEFT);
    }
    int[] hertz = settings.sensedHertz();
    for (int i = 0; i < FrontEndSection.FREQUENCIES.size(); i++) {
      section(written, "front_end")
          .putIfAbsent(
              FrontEndSection.FREQUENCIES.get(i).key(),
              i < hertz.length ? Integer.toString(hertz[i]) : "0");
    }
    // above the fluid of a full chamber, where no reading begins by itself
    section(written, "hand").putIfAbsent(HandSection.START_ABOVE.key(), "6");
    long draw = text.get(SceneText.DRAW);
    if (draw > 0) {
      return new Population(POPULATION)
          .member(draw, Fill.HALF_WET, written)
          .seeded(text.get(SceneText.SEED));
    }
    if (!section(written, FLUID).containsKey(FluidSection.LEVEL.key())) {
      long length = Canal.lengthMicrons(Scene.of(written, 0).section("canal"));
      section(written, FLUID).put(FluidSection.LEVEL.key(), Decimal.text(length / 2, 3));
    }
    return Scene.of(written, text.get(SceneText.SEED));
  }

  private static Map<String, String> section(
      Map<String, Map<String, String>> written, String name) {
    return written.computeIfAbsent(name, s -> new LinkedHashMap<>());
  }

  /** What the first lane is clamped to. */
  Scene opened() {
    return scene;
  }

  /**
   * Points the hand to a place. It goes there as fast as a hand can.
   *
   * @param depthMicrons depth of the tip below the orifice, µm; negative above it
   */
  public void hand(int depthMicrons) {
    lanes.forEach(lane -> lane.pointTo(depthMicrons));
  }

  /**
   * Demands motion, or releases the demand.
   *
   * @param on whether the motors may turn
   */
  public void demand(boolean on) {
    demand = on;
  }

  /**
   * Changes what may change while the scene runs: {@code fluid.level_mm}, the surface of the fluid
   * with the file where it is.
   *
   * @param key the key
   * @param value the value as text
   * @return what is wrong; empty when the change was made
   */
  public String setting(String key, String value) {
    if (!key.equals(LEVEL)) {
      return key + ": it cannot change while the scene runs; begin the scene again";
    }
    List<Fault> faults = new ArrayList<>();
    ParameterValues values =
        FluidSection.TABLE.resolve(Map.of(FluidSection.LEVEL.key(), value), faults);
    if (!faults.isEmpty()) {
      return faults.get(0).message();
    }
    levelMicrons = values.get(FluidSection.LEVEL);
    lanes.forEach(lane -> lane.fillTo(levelMicrons));
    return "";
  }

  /**
   * Lets time pass in both lanes.
   *
   * @param milliseconds how long, ms
   */
  public void advance(int milliseconds) {
    for (int i = 0; i < milliseconds; i++) {
      lanes.forEach(lane -> lane.step(demand));
    }
  }

  /**
   * What the drawing of a lane needs, and stays.
   *
   * @param lane 0 or 1
   * @return an object in JSON; distances in µm
   */
  public String scene(int lane) {
    return lanes.get(lane).scene();
  }

  /**
   * What is so in a lane now.
   *
   * @param lane 0 or 1
   * @return an object in JSON; distances in µm, positive short of the foramen
   */
  public String frame(int lane) {
    return lanes.get(lane).frame();
  }

  /**
   * Hash of the whole state of a controller.
   *
   * @param lane 0 or 1
   * @return 16 hexadecimal digits
   */
  public String hash(int lane) {
    return lanes.get(lane).hash();
  }

  /**
   * Why a controller is in its state.
   *
   * @param lane 0 or 1
   * @return one sentence
   */
  public String sentence(int lane) {
    return lanes.get(lane).sentence();
  }

  /**
   * How full the canal may be.
   *
   * @return one or two sentences
   */
  public String advice() {
    return FillAdvice.of(scene, settings.get(0).stage(text.stage()), levelMicrons);
  }

  /**
   * A plan that runs this scene with {@code stopwell run}.
   *
   * @return its YAML
   */
  public String plan() {
    return PlanText.of(scene, text, settings, levelMicrons);
  }
}
