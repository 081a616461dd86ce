package org.stopwell.mutation;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.SAXException;

/**
 * One changed place and what the tests said of it.
 *
 * @param type class that was changed
 * @param method its method with descriptor
 * @param line line of the source
 * @param change instruction and kind of the change
 * @param text the change in words
 * @param status as the mutation tool calls it
 * @param noticed whether a test noticed
 */
record Mutant(
    String type,
    String method,
    int line,
    String change,
    String text,
    String status,
    boolean noticed) {
  /** Every mutant of a report. */
  static List<Mutant> read(Path report) throws IOException {
    try {
      Element root =
          DocumentBuilderFactory.newInstance()
              .newDocumentBuilder()
              .parse(report.toFile())
              .getDocumentElement();
      NodeList all = root.getElementsByTagName("mutation");
      List<Mutant> mutants = new ArrayList<>();
      for (int i = 0; i < all.getLength(); i++) {
        mutants.add(of((Element) all.item(i)));
      }
      return mutants;
    } catch (ParserConfigurationException | SAXException e) {
      throw new IOException(report + ": " + e.getMessage(), e);
    }
  }

  private static Mutant of(Element e) {
    NodeList indexes = e.getElementsByTagName("index");
    List<String> at =
        IntStream.range(0, indexes.getLength())
            .mapToObj(i -> indexes.item(i).getTextContent())
            .toList();
    return new Mutant(
        text(e, "mutatedClass"),
        text(e, "mutatedMethod") + text(e, "methodDescription"),
        Integer.parseInt(text(e, "lineNumber")),
        text(e, "mutator") + at,
        text(e, "description"),
        e.getAttribute("status"),
        Boolean.parseBoolean(e.getAttribute("detected")));
  }

  private static String text(Element e, String tag) {
    return e.getElementsByTagName(tag).item(0).getTextContent();
  }

  /** How early it is drawn. */
  double draw(String seed) {
    return Draw.of(seed, type, method, change);
  }

  /** Package below {@code org.stopwell}, without the parts of the physics. */
  String area() {
    String name = type.substring("org.stopwell.".length(), type.lastIndexOf('.'));
    int physics = name.indexOf(".physics.");
    return physics < 0 ? name : name.substring(0, physics + ".physics".length());
  }

  /** Class and line, as a person looks for it. */
  String place() {
    return type.substring(type.lastIndexOf('.') + 1) + " " + line;
  }
}
