package org.stopwell.harness.report;

import java.io.IOException;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.Node;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;
import org.xml.sax.SAXException;

/** A report read by its structure: each number is found by the label beside it. */
final class ReadPage {
  private final Element page;

  ReadPage(String html) {
    try {
      Document document =
          DocumentBuilderFactory.newInstance()
              .newDocumentBuilder()
              .parse(new InputSource(new StringReader(html.substring(html.indexOf("<html")))));
      page = document.getDocumentElement();
    } catch (ParserConfigurationException | SAXException | IOException e) {
      throw new AssertionError("the page is not well-formed", e);
    }
  }

  /** A cell as {@code main} and what stands below it in small type, empty when there is none. */
  record Cell(String main, String small) {}

  /** One of the numbers at the head: its value, then its note. */
  List<String> fact(String name) {
    return described("facts", name);
  }

  /** One statistic: its value, then its method. */
  List<String> finding(String name) {
    return described("findings", name);
  }

  List<String> factNames() {
    return lists("facts").flatMap(l -> all(l, "dt")).map(ReadPage::text).toList();
  }

  List<String> findingNames() {
    return lists("findings").flatMap(l -> all(l, "dt")).map(ReadPage::text).toList();
  }

  /** The value beside a name in a list of pairs. */
  String pair(String name) {
    for (Element list : lists("pairs").toList()) {
      List<Element> names = all(list, "dt").toList();
      for (int i = 0; i < names.size(); i++) {
        if (text(names.get(i)).equals(name)) {
          return text(all(list, "dd").toList().get(i));
        }
      }
    }
    throw new AssertionError("no pair " + name);
  }

  private List<String> described(String list, String name) {
    return lists(list)
        .flatMap(l -> all(l, "div"))
        .filter(d -> text(first(d, "dt")).equals(name))
        .map(d -> all(d, "dd").map(ReadPage::text).toList())
        .findFirst()
        .orElseThrow(() -> new AssertionError("no number " + name));
  }

  private Stream<Element> lists(String style) {
    return all(page, "dl").filter(l -> l.getAttribute("class").equals(style));
  }

  Cell cell(String table, String row, String column) {
    List<String> columns = all(first(table(table), "thead"), "th").map(ReadPage::text).toList();
    int at = columns.indexOf(column);
    if (at < 0) {
      throw new AssertionError("no column " + column + " among " + columns);
    }
    return rows(table).stream()
        .filter(cells -> cells.get(0).main().equals(row))
        .map(cells -> cells.get(at))
        .findFirst()
        .orElseThrow(() -> new AssertionError("no row " + row + " in " + table));
  }

  /** Every row below the head, that with the sums last. */
  List<List<Cell>> rows(String table) {
    return all(table(table), "tr")
        .filter(r -> !((Element) r.getParentNode()).getTagName().equals("thead"))
        .map(r -> children(r).map(ReadPage::cell).toList())
        .toList();
  }

  private Element table(String name) {
    return all(page, "div")
        .filter(d -> d.getAttribute("aria-label").equals(name))
        .map(d -> first(d, "table"))
        .findFirst()
        .orElseThrow(() -> new AssertionError("no table " + name));
  }

  private static Cell cell(Element cell) {
    String small = all(cell, "small").map(ReadPage::text).findFirst().orElse("");
    String whole = text(cell);
    return new Cell(whole.substring(0, whole.length() - small.length()).strip(), small);
  }

  /** Each step of the flow and each leaf, such as {@code 90 planned}. */
  List<String> flow() {
    List<String> steps = new ArrayList<>();
    Element flow =
        all(page, "ol")
            .filter(l -> l.getAttribute("class").equals("flow"))
            .findFirst()
            .orElseThrow();
    for (Element step : all(flow, "li").toList()) {
      StringBuilder name = new StringBuilder();
      NodeList parts = step.getChildNodes();
      for (int i = 0; i < parts.getLength(); i++) {
        name.append(
            parts.item(i).getNodeType() == Node.TEXT_NODE ? parts.item(i).getNodeValue() : "");
      }
      steps.add(text(first(step, "b")) + " " + spaced(name.toString()));
    }
    return steps;
  }

  /** What a figure says to those who do not see it. */
  String description(String idOfDrawing) {
    return all(page, "desc")
        .filter(d -> d.getAttribute("id").startsWith(idOfDrawing + "-"))
        .map(ReadPage::text)
        .findFirst()
        .orElseThrow(() -> new AssertionError("no drawing " + idOfDrawing));
  }

  private static Stream<Element> all(Element within, String tag) {
    return elements(within.getElementsByTagName(tag));
  }

  private static Stream<Element> children(Element of) {
    return elements(of.getChildNodes());
  }

  private static Stream<Element> elements(NodeList nodes) {
    List<Element> elements = new ArrayList<>();
    for (int i = 0; i < nodes.getLength(); i++) {
      if (nodes.item(i) instanceof Element e) {
        elements.add(e);
      }
    }
    return elements.stream();
  }

  private static Element first(Element within, String tag) {
    return all(within, tag).findFirst().orElseThrow(() -> new AssertionError("no " + tag));
  }

  private static String text(Element e) {
    return spaced(e.getTextContent());
  }

  /** A space that keeps a number and its unit together is a space. */
  private static String spaced(String text) {
    return text.replace('\u00a0', ' ').replaceAll("\\s+", " ").strip();
  }
}
