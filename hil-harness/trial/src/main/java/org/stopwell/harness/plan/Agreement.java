package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.FrontEndSection;

/**
 * Values that scene and settings share: the file of the stage, and the frequencies of the front end
 * or the step and rate of the outside locator. A value missing in the scene follows the settings; a
 * contradiction is a mistake.
 */
final class Agreement {
  private static final String FILE = "file";
  private static final String FRONT_END = "front_end";

  private Agreement() {}

  /** Scene values that follow from the settings, by section and key. */
  static Map<String, Map<String, String>> defaults(ControllerSettings settings, Stage stage) {
    ParameterValues file = settings.file(stage);
    ParameterValues sense = settings.section("sense");
    Map<String, String> instrument = new LinkedHashMap<>();
    instrument.put(
        FileSection.SIZE.key(), FileParameters.SIZE.human(file.get(FileParameters.SIZE)));
    instrument.put(
        FileSection.TAPER.key(), FileSection.TAPER.human(file.get(FileParameters.TAPER)));
    instrument.put(
        FileSection.SHEAR_STRENGTH.key(),
        FileSection.SHEAR_STRENGTH.human(file.get(FileParameters.SHEAR_STRENGTH)));
    if (settings.has(stage)
        && settings.stage(stage).choice(StageParameters.MOTION).equals(StageParameters.BACKWARD)) {
      instrument.put(FileSection.FLUTES.key(), FileSection.LEFT);
    }
    Map<String, String> frontEnd = new LinkedHashMap<>();
    boolean locator = settings.sensing().signal() == PositionKind.DISTANCE;
    frontEnd.put(FrontEndSection.SIGNAL.key(), locator ? FrontEndSection.DISTANCE : "impedance");
    if (settings.sensing().reads(SenseParameters.LOCATOR_STEP.key())) {
      // both in µm and in mHz: the same base units
      frontEnd.put(
          FrontEndSection.LOCATOR_STEP.key(),
          FrontEndSection.LOCATOR_STEP.human(sense.get(SenseParameters.LOCATOR_STEP)));
      frontEnd.put(
          FrontEndSection.LOCATOR_RATE.key(),
          FrontEndSection.LOCATOR_RATE.human(sense.get(SenseParameters.LOCATOR_RATE)));
    }
    int[] hertz = settings.sensedHertz();
    for (int i = 0; i < FrontEndSection.FREQUENCIES.size() && !locator; i++) {
      frontEnd.put(key(i), i < hertz.length ? Integer.toString(hertz[i]) : "0");
    }
    return Map.of(FILE, instrument, FRONT_END, frontEnd);
  }

  private static String key(int index) {
    return FrontEndSection.FREQUENCIES.get(index).key();
  }

  /** Frequencies that the controller needs and the scene's front end does not measure. */
  static List<Mistake> check(
      String plan, Sections scene, ControllerSettings settings, Stage stage) {
    List<Mistake> mistakes = new ArrayList<>();
    Map<String, String> needed =
        new LinkedHashMap<>(defaults(settings, stage).getOrDefault(FRONT_END, Map.of()));
    Map<String, String> written = new LinkedHashMap<>(needed);
    written.putAll(scene.texts().getOrDefault(FRONT_END, Map.of()));
    List<String> measured =
        FrontEndSection.FREQUENCIES.stream()
            .map(Parameter::key)
            .map(k -> written.getOrDefault(k, "0"))
            .toList();
    for (Parameter same :
        List.of(
            FrontEndSection.SIGNAL, FrontEndSection.LOCATOR_STEP, FrontEndSection.LOCATOR_RATE)) {
      String wanted = needed.get(same.key());
      scene
          .find(FRONT_END, same.key())
          .filter(w -> wanted != null && !w.text().equals(wanted))
          .forEach(
              w ->
                  mistakes.add(
                      new Mistake(
                          plan,
                          w.line(),
                          w.path(),
                          w.text()
                              + ", but sense.policy "
                              + settings.sensingPolicy()
                              + " reads "
                              + wanted)));
    }
    for (Parameter frequency : FrontEndSection.FREQUENCIES) {
      String hz = needed.getOrDefault(frequency.key(), "0");
      if (!hz.equals("0") && !measured.contains(hz)) {
        scene
            .find(FRONT_END, frequency.key())
            .forEach(
                w ->
                    mistakes.add(
                        new Mistake(
                            plan,
                            w.line(),
                            w.path(),
                            w.text()
                                + " Hz leaves out "
                                + hz
                                + " Hz, which sense.policy "
                                + settings.sensingPolicy()
                                + " reads")));
      }
    }
    return mistakes;
  }
}
