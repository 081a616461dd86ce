package org.stopwell.harness.live;

import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.record.ConditionNames;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import tools.jackson.jr.ob.JSON;

/**
 * What a watcher of a campaign may know of it. A blinded factor stays under its codes. Where a
 * factor is blinded or known-answer trials are hidden, no frame shows what a trial is.
 *
 * @param header the header under the names that a reader sees
 * @param names gives these names to trials
 */
record LiveCampaign(RunHeader header, ConditionNames names) {
  static LiveCampaign of(RunHeader stored) {
    ConditionNames names = ConditionNames.blinded(stored);
    return new LiveCampaign(names.of(stored), names);
  }

  /** Whether picture and traces would tell what the plan hides. */
  boolean covered() {
    return header.protocol().blinding().isPresent() || header.protocol().sentinels().isPresent();
  }

  /** Trials of the campaign, the hidden ones among them. */
  int planned() {
    int tests = header.plannedTrials();
    return tests + header.protocol().sentinels().map(s -> s.count(tests)).orElse(0);
  }

  /** Trials after which the stops of all of them may be shown; 1 where none is hidden. */
  int stretch() {
    return header.protocol().sentinels().map(s -> s.every() + 1).orElse(1);
  }

  boolean isHidden(TrialResult trial) {
    return header.protocol().sentinels().isPresent()
        && trial.condition().equals(SentinelRule.CONDITION);
  }

  /** The place of a condition in the list, −1 when it is not there. */
  int place(String condition) {
    for (int i = 0; i < header.conditions().size(); i++) {
      if (header.conditions().get(i).name().equals(condition)) {
        return i;
      }
    }
    return -1;
  }

  /** One JSON object; only as many conditions as there is room for. */
  String json(int most) throws IOException {
    List<Map<String, Object>> conditions = new ArrayList<>();
    for (Condition c : header.conditions()) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("name", c.name());
      one.put("planned", c.plannedTrials());
      one.put("expects", c.expectation().text());
      one.put("standoffUm", c.standoffMicrons());
      one.put("toleranceUm", c.toleranceMicrons());
      conditions.add(one);
    }
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("plan", header.planName());
    all.put("bench", header.bench().kind());
    all.put("simulated", header.bench().simulated());
    all.put("lockstep", header.bench().lockstep());
    all.put("planned", planned());
    all.put("covered", covered());
    all.put("stretch", stretch());
    all.put("conditions", conditions);
    String text = JSON.std.asString(all);
    while (text.length() > most / 3 && !conditions.isEmpty()) { // 3 bytes per character at most
      conditions.subList(conditions.size() / 2, conditions.size()).clear();
      text = JSON.std.asString(all);
    }
    return text;
  }
}
