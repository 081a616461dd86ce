package org.stopwell.rig.wire;

import static org.stopwell.rig.wire.Message.MOUNT_VALUE;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Irrigant;
import org.stopwell.rig.bench.Scene;

/** A {@link Scene} as a row of {@link Message#MOUNT_VALUE}, each of which explains itself. */
public final class SceneFields {
  private static final int KEY = MOUNT_VALUE.index("key");
  private static final int DECIMALS = MOUNT_VALUE.index("decimals");
  private static final int VALUE = MOUNT_VALUE.index("value");
  private static final int WORD = MOUNT_VALUE.index("word");

  private static final String UNNAMED = Irrigant.UNNAMED.key();

  private SceneFields() {}

  /**
   * One value of a scene.
   *
   * @param key section and name, such as {@code canal.length_mm}
   * @param decimals decimals of the unit that the value holds
   * @param value the value, in 10^-decimals of the unit
   * @param word the word chosen, empty for a number
   */
  public record Value(String key, int decimals, long value, String word) {
    /**
     * Fills a packet that has begun as a mount value.
     *
     * @param packet receives the fields
     */
    public void put(Packet packet) {
      packet.set(KEY, key).set(DECIMALS, decimals).set(VALUE, value).set(WORD, word);
    }

    /**
     * Reads a mount value.
     *
     * @param packet a mount value
     * @return the record
     */
    public static Value get(Packet packet) {
      return new Value(
          packet.text(KEY), packet.integer(DECIMALS), packet.number(VALUE), packet.text(WORD));
    }

    /**
     * The value as people write it.
     *
     * @return the word, or a decimal number in the unit of the key
     */
    public String human() {
      return word.isEmpty() ? BigDecimal.valueOf(value, decimals).toPlainString() : word;
    }
  }

  /**
   * Every value of a scene, defaults too, so that a board needs no defaults of its own.
   *
   * @param scene the scene
   * @return its values in the order of the tables
   */
  public static List<Value> of(Scene scene) {
    List<Value> values = new ArrayList<>();
    Scene.allTables()
        .forEach(
            (section, table) -> {
              ParameterValues given = scene.section(section);
              for (Parameter p : table.parameters()) {
                long base = given.get(p);
                String word = p.kind() == Parameter.Kind.NUMBER ? "" : p.human(base);
                values.add(new Value(section + "." + p.key(), p.decimals(), base, word));
              }
            });
    return values;
  }

  /**
   * Makes a scene of what has arrived.
   *
   * @param values the values
   * @param seed the seed
   * @return the scene
   * @throws SettingsException when a section or key is unknown or a value is outside its limits
   */
  public static Scene scene(List<Value> values, long seed) throws SettingsException {
    Map<String, Map<String, String>> written = new HashMap<>();
    for (Value value : values) {
      int dot = value.key().indexOf('.');
      String section = value.key().substring(0, Math.max(dot, 0));
      if (!Scene.allTables().containsKey(section)) {
        throw new SettingsException(
            List.of(new Fault(value.key(), value.key() + ": no such section")));
      }
      written
          .computeIfAbsent(section, s -> new HashMap<>())
          .put(value.key().substring(dot + 1), value.human());
    }
    Map<String, String> fluid = written.getOrDefault("fluid", new HashMap<>());
    if (!fluid.getOrDefault(FluidSection.IRRIGANT.key(), UNNAMED).equals(UNNAMED)) {
      // The name sets the conductivity; the one beside it is a default, which nobody stated.
      fluid.remove(FluidSection.CONDUCTIVITY.key());
    }
    return Scene.of(written, seed);
  }
}
