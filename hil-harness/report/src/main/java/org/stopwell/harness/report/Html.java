package org.stopwell.harness.report;

import gg.jte.Content;
import gg.jte.TemplateOutput;
import gg.jte.html.HtmlInterceptor;
import gg.jte.html.HtmlTemplateOutput;
import gg.jte.html.OwaspHtmlTemplateOutput;
import gg.jte.html.escape.Escape;
import gg.jte.output.StringOutput;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.stopwell.harness.trial.Verdict;

/** The parts that sections are made of, each laid out by a template. */
final class Html {
  /** A name and its value. */
  record Pair(String name, Prose value) {
    static Pair of(String name, String value) {
      return new Pair(name, Prose.of(value));
    }
  }

  /** Generated templates take an interceptor of tags; there is nothing to intercept. */
  static final HtmlInterceptor NONE =
      new HtmlInterceptor() {
        @Override
        public void onHtmlTagOpened(
            String name, Map<String, Object> attributes, TemplateOutput out) {}

        @Override
        public void onHtmlTagClosed(String name, TemplateOutput out) {}
      };

  private Html() {}

  /** What a template writes. */
  static Content template(Consumer<HtmlTemplateOutput> template) {
    return output -> template.accept(html(output));
  }

  private static HtmlTemplateOutput html(TemplateOutput output) {
    return output instanceof HtmlTemplateOutput already
        ? already
        : new OwaspHtmlTemplateOutput(output);
  }

  /** The text of some content. */
  static String text(Content content) {
    StringOutput output = new StringOutput(1 << 16);
    content.writeTo(new OwaspHtmlTemplateOutput(output));
    return output.toString();
  }

  /** Several parts, one after the other. */
  static Content all(List<Content> parts) {
    return output -> parts.forEach(part -> part.writeTo(output));
  }

  static Optional<Content> section(String id, String title, Content... parts) {
    Content body = all(List.of(parts));
    return Optional.of(template(t -> JtesectionGenerated.render(t, NONE, id, title, body)));
  }

  static Content heading(String text) {
    return element("<h3>", text, "</h3>\n");
  }

  static Content paragraph(String text) {
    return element("<p>", text, "</p>\n");
  }

  static Content caution(String text) {
    return element("<p class=\"caution\">", text, "</p>\n");
  }

  static Content list(List<String> items) {
    return output -> {
      output.writeContent("<ul>\n");
      items.forEach(item -> element("<li>", item, "</li>\n").writeTo(output));
      output.writeContent("</ul>\n");
    };
  }

  private static Content element(String start, String text, String end) {
    return output -> {
      output.writeContent(start);
      Escape.htmlContent(Words.tied(text), output);
      output.writeContent(end);
    };
  }

  static Content table(Table table) {
    return template(t -> JtetableGenerated.render(t, NONE, table));
  }

  static Content figure(Figure figure) {
    return template(t -> JtefigureGenerated.render(t, NONE, figure));
  }

  /** A figure whose drawings stand side by side where the page is wide. */
  static Content beside(Figure figure) {
    return output -> {
      output.writeContent("<div class=\"beside\">\n");
      figure(figure).writeTo(output);
      output.writeContent("</div>\n");
    };
  }

  static Content form(Form form) {
    return template(t -> JteformGenerated.render(t, NONE, form));
  }

  static Content pairs(List<Pair> pairs) {
    return template(t -> JtepairsGenerated.render(t, NONE, pairs));
  }

  /** A verdict in large type with what it means. */
  static Content verdict(Verdict verdict, String meaning) {
    return template(
        t ->
            JteverdictGenerated.render(
                t,
                NONE,
                verdict.name(),
                Words.verdict(verdict),
                Words.tied(meaning),
                List.of(),
                List.of(),
                List.of()));
  }

  static Content findings(List<StatisticRow> findings) {
    return template(t -> JtefindingsGenerated.render(t, NONE, findings));
  }
}
