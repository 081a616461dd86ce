package org.stopwell.harness.tryout;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.core.weights.WeightsException;
import org.teavm.jso.JSExport;

/** What {@code stopwell.js} calls in the page. Texts go in and out, and whole numbers. */
final class TryScript {
  private static @Nullable LaneSettings settings;
  private static @Nullable TryMachine machine;

  private TryScript() {}

  /** Nothing begins by itself. */
  public static void main(String[] arguments) {}

  /** Takes up weights and curve; returns what is wrong with them. */
  @JSExport
  public static String load(String weights, String ratio) {
    try {
      settings = new LaneSettings(ratio, DepthWeightsText.decode("weights", weights));
      return "";
    } catch (WeightsException e) {
      return String.valueOf(e.getMessage());
    }
  }

  /** Opens a scene in place of the one before; returns what is wrong, a mistake a line. */
  @JSExport
  public static String open(String text) {
    LaneSettings loaded = settings;
    if (loaded == null) {
      return "the engine has no weights yet";
    }
    try {
      machine = TryMachine.open(text, loaded);
      return "";
    } catch (SettingsException e) {
      StringBuilder said = new StringBuilder();
      for (Fault fault : e.faults()) {
        said.append(said.length() > 0 ? "\n" : "").append(named(fault));
      }
      return said.toString();
    }
  }

  /** A message names the key as its table does; the page names the section too. */
  private static String named(Fault fault) {
    String section = fault.key().substring(0, fault.key().lastIndexOf('.') + 1);
    return fault.message().startsWith(fault.key()) || section.startsWith("stages.")
        ? fault.message()
        : section + fault.message();
  }

  private static TryMachine machine() {
    TryMachine open = machine;
    if (open == null) {
      throw new IllegalStateException("no scene is open");
    }
    return open;
  }

  @JSExport
  public static void hand(int depthMicrons) {
    machine().hand(depthMicrons);
  }

  @JSExport
  public static void demand(boolean on) {
    machine().demand(on);
  }

  @JSExport
  public static String setting(String key, String value) {
    return machine().setting(key, value);
  }

  @JSExport
  public static void advance(int milliseconds) {
    machine().advance(milliseconds);
  }

  @JSExport
  public static String scene(int lane) {
    return machine().scene(lane);
  }

  @JSExport
  public static String frame(int lane) {
    return machine().frame(lane);
  }

  @JSExport
  public static String hash(int lane) {
    return machine().hash(lane);
  }

  @JSExport
  public static String sentence(int lane) {
    return machine().sentence(lane);
  }

  @JSExport
  public static String advice() {
    return machine().advice();
  }

  @JSExport
  public static String plan() {
    return machine().plan();
  }
}
