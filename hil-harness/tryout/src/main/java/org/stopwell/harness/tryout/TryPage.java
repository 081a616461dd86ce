package org.stopwell.harness.tryout;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.Objects;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.core.weights.WeightsException;

/**
 * The page to try by hand: one self-contained HTML file. Its policy allows the scripts and styles
 * in it by their hashes, and nothing from anywhere else.
 *
 * @param html the page
 * @param policy its content security policy, for a server that sends it as a header too
 */
public record TryPage(String html, String policy) {
  /** Where the core keeps the shipped weights. */
  private static final String WEIGHTS = "/stopwell-weights/shipped.weights";

  /** Modules of the page, each after those that it imports. */
  private static final List<String> MODULES = List.of("canal.js", "chart.js", "try.js");

  /**
   * Assembles the page.
   *
   * @return the page
   */
  public static TryPage assembled() {
    String look = resource("look.css");
    String style = resource("try.css");
    String engine = engine();
    StringBuilder page = new StringBuilder();
    MODULES.forEach(name -> page.append(module(resource(name))));
    String policy =
        "default-src 'none'; script-src "
            + hashes(engine, page.toString())
            + "; style-src "
            + hashes(look, style)
            + "; img-src data:; base-uri 'none'; form-action 'none'";
    String html =
        fill(
            resource("try.html"),
            "policy",
            policy,
            "look",
            look,
            "style",
            style,
            "engine",
            engine,
            "page",
            page.toString());
    return new TryPage(html, policy);
  }

  /**
   * Opens a scene as the page does, in Java: the same scene gives the same states.
   *
   * @param sceneText text of the scene, see the package
   * @return the scene
   * @throws SettingsException with every mistake: key, value, limit and unit
   * @throws WeightsException never, unless the shipped weights are damaged
   */
  public static TryMachine machine(String sceneText) throws SettingsException, WeightsException {
    String weights = text(DepthWeights.class, WEIGHTS);
    return TryMachine.open(
        sceneText,
        new LaneSettings(
            resource("ratio.yaml"), DepthWeightsText.decode("shipped.weights", weights)));
  }

  /**
   * The engine with its texts: a script that defines {@code Stopwell}.
   *
   * @return JavaScript
   */
  static String engine() {
    return fill(
        resource("stopwell.js"),
        "engine",
        resource("engine.js"),
        "weights",
        quoted(text(DepthWeights.class, WEIGHTS)),
        "ratio",
        quoted(resource("ratio.yaml")));
  }

  /** Puts texts in place of marks; the texts may hold what looks like a mark. */
  private static String fill(String template, String... marksAndTexts) {
    List<String> parts = new ArrayList<>(List.of(template));
    for (int m = 0; m < marksAndTexts.length; m += 2) {
      String mark = "{{" + marksAndTexts[m] + "}}";
      for (int i = 0; i < parts.size(); i += 2) {
        int at = parts.get(i).indexOf(mark);
        if (at >= 0) {
          String part = parts.get(i);
          parts.set(i, part.substring(0, at));
          parts.add(i + 1, marksAndTexts[m + 1]);
          parts.add(i + 2, part.substring(at + mark.length()));
        }
      }
    }
    return String.join("", parts);
  }

  /** A module as a part of one script: without its imports, and nothing exported. */
  private static String module(String source) {
    StringBuilder out = new StringBuilder();
    for (String line : source.split("\n", -1)) {
      if (!line.startsWith("import ")) {
        out.append(line.startsWith("export ") ? line.substring("export ".length()) : line)
            .append('\n');
      }
    }
    return out.toString();
  }

  private static String quoted(String text) {
    return '"' + text.replace("\\", "\\\\").replace("\"", "\\\"").replace("\n", "\\n") + '"';
  }

  private static String hashes(String... texts) {
    StringBuilder out = new StringBuilder();
    for (String text : texts) {
      if (text.contains("</script") || text.contains("<!--")) {
        throw new IllegalStateException("a script of the page would end the page");
      }
      out.append(out.length() > 0 ? " " : "").append("'sha256-").append(hash(text)).append('\'');
    }
    return out.toString();
  }

  private static String hash(String text) {
    try {
      byte[] digest =
          MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
      return Base64.getEncoder().encodeToString(digest);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e); // every Java has it
    }
  }

  static String resource(String name) {
    return text(TryPage.class, name);
  }

  private static String text(Class<?> beside, String name) {
    try (InputStream in = Objects.requireNonNull(beside.getResourceAsStream(name), name)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
