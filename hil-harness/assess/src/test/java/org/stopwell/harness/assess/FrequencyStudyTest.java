package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;

class FrequencyStudyTest {
  private final FrequencyStudy study = new FrequencyStudy(4);

  @Test
  void everyChoiceIsRankedAndMoreFrequenciesNeverTellLess() {
    var sights = study.sights(1);
    List<FrequencyStudy.Choice> ones = study.ranked(sights, 1);
    List<FrequencyStudy.Choice> twos = study.ranked(sights, 2);
    assertEquals(15, ones.size());
    assertEquals(105, twos.size());
    assertTrue(twos.get(0).rmsMm() <= ones.get(0).rmsMm());
    assertTrue(ones.get(0).rmsMm() < ones.get(14).rmsMm());
  }

  @Test
  void theFrequenciesOfTheProductAreAmongThem() {
    String text = study.text();
    assertTrue(text.contains("ours: 700, 7000 Hz"), text);
    assertTrue(text.contains("ours: 300, 1500, 7000, 20000 Hz"), text);
  }
}
