package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalInt;
import org.snakeyaml.engine.v2.api.LoadSettings;
import org.snakeyaml.engine.v2.composer.Composer;
import org.snakeyaml.engine.v2.events.CollectionEndEvent;
import org.snakeyaml.engine.v2.events.CollectionStartEvent;
import org.snakeyaml.engine.v2.events.Event;
import org.snakeyaml.engine.v2.events.ScalarEvent;
import org.snakeyaml.engine.v2.exceptions.MarkedYamlEngineException;
import org.snakeyaml.engine.v2.exceptions.YamlEngineException;
import org.snakeyaml.engine.v2.nodes.MappingNode;
import org.snakeyaml.engine.v2.nodes.Node;
import org.snakeyaml.engine.v2.nodes.NodeTuple;
import org.snakeyaml.engine.v2.nodes.ScalarNode;
import org.snakeyaml.engine.v2.nodes.SequenceNode;
import org.snakeyaml.engine.v2.nodes.Tag;
import org.snakeyaml.engine.v2.parser.ParserImpl;
import org.snakeyaml.engine.v2.scanner.StreamReader;
import org.snakeyaml.engine.v2.schema.CoreSchema;

/**
 * Reads YAML and keeps the line of every key. Duplicate keys, anchors, merge keys and several
 * documents in one file are mistakes: each makes a plan ambiguous.
 */
final class YamlReader {
  /** Says which file is parsed; at level {@code DEBUG}, so that it is silent unless asked for. */
  private static final System.Logger LOG = System.getLogger(YamlReader.class.getName());

  /** Most levels of keys and lists; assumed: ten times those of a plan. */
  private static final int MOST_LEVELS = 50;

  private final Mistakes mistakes;

  private YamlReader(Mistakes mistakes) {
    this.mistakes = mistakes;
  }

  /** The top-level keys of a file; empty when the text is not YAML, with the mistake noted. */
  static Yaml.Mapping read(Source source, Mistakes mistakes) {
    LOG.log(System.Logger.Level.DEBUG, source.name());
    LoadSettings settings =
        LoadSettings.builder().setLabel(source.name()).setSchema(new CoreSchema()).build();
    String text = source.text().startsWith("\uFEFF") ? source.text().substring(1) : source.text();
    List<Node> documents = new ArrayList<>();
    try {
      if (!isFit(new ParserImpl(settings, new StreamReader(settings, text)), mistakes)) {
        return Yaml.Mapping.empty(0);
      }
      StreamReader reader = new StreamReader(settings, text);
      new Composer(settings, new ParserImpl(settings, reader)).forEachRemaining(documents::add);
    } catch (MarkedYamlEngineException e) {
      int line = e.getProblemMark().or(e::getContextMark).map(m -> m.getLine() + 1).orElse(0);
      mistakes.add(line, "", "not YAML: " + e.getProblem());
      return Yaml.Mapping.empty(0);
    } catch (YamlEngineException | StackOverflowError e) {
      mistakes.add(
          0,
          "",
          "not YAML: "
              + (e.getMessage() == null
                  ? "keys or lists are nested too deeply"
                  : e.getMessage().replace('\n', ' ')));
      return Yaml.Mapping.empty(0);
    }
    if (documents.isEmpty()) {
      mistakes.add(0, "", "the file is empty");
      return Yaml.Mapping.empty(0);
    }
    if (documents.size() > 1) {
      mistakes.add(line(documents.get(1)), "", "a second document; a file must hold one");
    }
    if (!(new YamlReader(mistakes).convert(documents.get(0), "") instanceof Yaml.Mapping top)) {
      mistakes.add(line(documents.get(0)), "", "expected keys with values, such as plan: 1");
      return Yaml.Mapping.empty(0);
    }
    return top;
  }

  /**
   * Refuses what the composer does not show: it replaces a merge key by the keys that it stands
   * for, and needs memory and time for each level of nesting.
   */
  private static boolean isFit(ParserImpl events, Mistakes mistakes) {
    int depth = 0;
    while (events.hasNext()) {
      Event event = events.next();
      int line = event.getStartMark().map(m -> m.getLine() + 1).orElse(0);
      if (event instanceof ScalarEvent word && word.isPlain() && word.getValue().equals("<<")) {
        mistakes.add(line, "", "merge keys (<<) are not supported; write the keys");
      } else if (event instanceof CollectionStartEvent) {
        depth++;
      } else if (event instanceof CollectionEndEvent) {
        depth--;
      }
      if (depth > MOST_LEVELS) {
        mistakes.add(line, "", "nested in more than " + MOST_LEVELS + " levels");
        return false;
      }
    }
    return true;
  }

  private Yaml convert(Node node, String path) {
    if (node.getAnchor().isPresent()) {
      mistakes.add(line(node), path, "anchors (&) are not supported; write the value");
      return new Yaml.Scalar("", Yaml.Sort.NOTHING, line(node));
    }
    if (node instanceof MappingNode mapping) {
      return convert(mapping, path);
    }
    if (node instanceof SequenceNode sequence) {
      List<Yaml> items = new ArrayList<>();
      for (Node item : sequence.getValue()) {
        items.add(convert(item, path));
      }
      return new Yaml.Items(items, line(node));
    }
    ScalarNode scalar = (ScalarNode) node;
    OptionalInt control = scalar.getValue().chars().filter(YamlReader::isControl).findFirst();
    if (control.isPresent()) {
      mistakes.add(
          line(node),
          path,
          String.format(
              Locale.ROOT, "holds the control character U+%04X; remove it", control.getAsInt()));
      return new Yaml.Scalar("", Yaml.Sort.NOTHING, line(node));
    }
    return new Yaml.Scalar(scalar.getValue(), sort(scalar.getTag()), line(node));
  }

  private Yaml.Mapping convert(MappingNode mapping, String path) {
    Map<String, Yaml.Entry> entries = new LinkedHashMap<>();
    for (NodeTuple pair : mapping.getValue()) {
      int line = line(pair.getKeyNode());
      if (!(pair.getKeyNode() instanceof ScalarNode key)) {
        mistakes.add(line, path, "a key must be a word");
        continue;
      }
      String full = path.isEmpty() ? key.getValue() : path + "." + key.getValue();
      Yaml value = convert(pair.getValueNode(), full);
      Yaml.Entry before = entries.putIfAbsent(key.getValue(), new Yaml.Entry(line, value));
      if (before != null) {
        mistakes.add(line, full, "given twice; first on line " + before.line());
      }
    }
    return new Yaml.Mapping(entries, line(mapping));
  }

  private static boolean isControl(int c) {
    return (c < ' ' && c != '\t' && c != '\n' && c != '\r') || c == 0x7f;
  }

  private static Yaml.Sort sort(Tag tag) {
    if (tag.equals(Tag.INT) || tag.equals(Tag.FLOAT)) {
      return Yaml.Sort.NUMBER;
    }
    if (tag.equals(Tag.BOOL)) {
      return Yaml.Sort.FLAG;
    }
    return tag.equals(Tag.NULL) ? Yaml.Sort.NOTHING : Yaml.Sort.TEXT;
  }

  private static int line(Node node) {
    return node.getStartMark().map(m -> m.getLine() + 1).orElse(0);
  }
}
