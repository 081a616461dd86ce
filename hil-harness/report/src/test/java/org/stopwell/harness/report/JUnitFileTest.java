package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.StringReader;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import javax.xml.XMLConstants;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.transform.stream.StreamSource;
import javax.xml.validation.SchemaFactory;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.xml.sax.InputSource;

class JUnitFileTest {
  @Test
  void theFileHasTheShapeThatServersRead() throws Exception {
    String xml = JUnitFile.xml(SampleCampaign.header(30), SampleCampaign.trials(30));
    SchemaFactory.newInstance(XMLConstants.W3C_XML_SCHEMA_NS_URI)
        .newSchema(Objects.requireNonNull(getClass().getResource("/junit/junit.xsd")))
        .newValidator()
        .validate(new StreamSource(new StringReader(xml)));
  }

  @Test
  void aBrokenRigNeverLooksLikeABrokenDevice() throws Exception {
    List<TrialResult> trials = new ArrayList<>();
    trials.add(SampleRun.stop(0, 20));
    trials.add(SampleRun.stop(1, 900));
    trials.add(SampleRun.rigFault(2, "PORT_GONE"));
    trials.add(of(3, Verdict.SAFETY_STOP, "STOP_LINE"));
    trials.add(of(4, Verdict.UNDECIDED, "TIME_LIMIT"));
    Document file = parse(JUnitFile.xml(SampleRun.header(5, 0), trials));
    Element suite = (Element) file.getElementsByTagName("testsuite").item(0);
    assertEquals("half-wet", suite.getAttribute("name"));
    assertEquals("5", suite.getAttribute("tests"));
    assertEquals("1", suite.getAttribute("failures"));
    assertEquals("2", suite.getAttribute("errors"));
    assertEquals("1", suite.getAttribute("skipped"));
    assertEquals(1, file.getElementsByTagName("failure").getLength());
    Element error = (Element) file.getElementsByTagName("error").item(0);
    assertEquals("PORT_GONE", error.getAttribute("type"));
    Element skipped = (Element) file.getElementsByTagName("skipped").item(0);
    assertTrue(skipped.getAttribute("message").startsWith("TIME_LIMIT"));
  }

  @Test
  void aCampaignThatWasCutShortDoesNotLookWhole() throws Exception {
    Document file = parse(JUnitFile.xml(SampleRun.header(3, 2), List.of(SampleRun.stop(0, 20))));
    assertEquals("3", file.getDocumentElement().getAttribute("tests"));
    assertEquals("2", file.getDocumentElement().getAttribute("skipped"));
    List<String> said = new ArrayList<>();
    for (int i = 0; i < 2; i++) {
      said.add(((Element) file.getElementsByTagName("skipped").item(i)).getAttribute("message"));
    }
    assertEquals(
        List.of(
            "NOT_RUN: 2 of 3 planned trials were not run.",
            "NOT_RUN: 2 of 2 planned trials were not run."),
        said);
  }

  @Test
  void everyCaseNamesItsSeedAndEverySuiteItsCampaign() throws Exception {
    Document file = parse(JUnitFile.xml(SampleRun.header(1, 0), List.of(SampleRun.stop(0, 20))));
    assertEquals("42", property(file, "campaign_seed"));
    assertEquals("1000", property(file, "seed"));
    assertEquals("true", property(file, "simulated"));
  }

  @Test
  void textOfAPersonIsEscaped() throws Exception {
    RunHeader h = SampleRun.header(1, 0);
    String evil = "<a> & \"b\" 'c' \u0001";
    RunHeader header =
        new RunHeader(evil, "", "", "", h.bench(), 1, h.conditions(), List.of(), "", "");
    Document file = parse(JUnitFile.xml(header, List.of()));
    assertEquals(evil.replace('\u0001', '\uFFFD'), file.getDocumentElement().getAttribute("name"));
  }

  private static TrialResult of(int index, Verdict verdict, String code) {
    return SampleRun.unstopped(index, "half-wet", Expectation.STOP, verdict, code, "A sentence.");
  }

  private static String property(Document file, String name) {
    var properties = file.getElementsByTagName("property");
    for (int i = 0; i < properties.getLength(); i++) {
      Element property = (Element) properties.item(i);
      if (property.getAttribute("name").equals(name)) {
        return property.getAttribute("value");
      }
    }
    throw new AssertionError("no property " + name);
  }

  private static Document parse(String xml) throws Exception {
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new InputSource(new StringReader(xml)));
  }
}
