package org.stopwell.core.settings;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/**
 * The policies that settings choose, looked up by name once.
 *
 * @param sensing name of the sensing policy
 * @param needs what it needs
 * @param names names of the policies chosen, by the key that chooses them
 */
record PolicyChoice(String sensing, SensingNeeds needs, Map<String, String> names) {
  /** What sections choose; where a section is missing, the default. */
  static PolicyChoice of(Map<String, ParameterValues> sections, PolicyTables policies) {
    ParameterValues sense = sections.get("sense");
    String sensing = sense == null ? SenseParameters.RATIO : sense.choice(SenseParameters.POLICY);
    Map<String, String> names = new LinkedHashMap<>();
    names.put(PolicyTables.SENSING, sensing);
    ParameterValues others = sections.get(PolicyParameters.SECTION);
    if (others != null) {
      for (Parameter kind : others.table().parameters()) {
        names.put(PolicyParameters.SECTION + "." + kind.key(), others.choice(kind));
      }
    }
    return new PolicyChoice(
        sensing, policies.sensing().getOrDefault(sensing, SensingNeeds.RATIO), names);
  }

  /** An unknown sensing policy: reports only this mistake, not the keys that it would read. */
  static PolicyChoice unknown(Map<String, ParameterValues> sections, PolicyTables policies) {
    PolicyChoice known = of(sections, policies);
    Parameter[] all = SenseParameters.TABLE.parameters().toArray(new Parameter[0]);
    return new PolicyChoice(known.sensing, SensingNeeds.impedance().reading(all), known.names);
  }

  /** The sections of the policies chosen that have parameters of their own. */
  Stream<String> own(PolicyTables policies) {
    return policies.own().keySet().stream()
        .filter(names::containsValue)
        .map(name -> PolicyTables.OWN + name);
  }

  /** Names every key, and every section of a policy, that the policies chosen do not read. */
  void addUnused(
      Map<String, ? extends Map<String, ?>> written, PolicyTables policies, List<Fault> faults) {
    Map<String, ?> sense = written.get("sense");
    for (Parameter p : SenseParameters.TABLE.parameters()) {
      if (sense != null && sense.containsKey(p.key()) && !needs.reads(p.key())) {
        add("sense." + p.key(), "policy " + sensing + " does not read this key; remove it", faults);
      }
    }
    for (String name : policies.own().keySet()) {
      String section = PolicyTables.OWN + name;
      if (written.containsKey(section) && !names.containsValue(name)) {
        add(
            section,
            "policy "
                + name
                + " is not chosen; remove this section, or write "
                + policies.keyOf(name)
                + ": "
                + name,
            faults);
      }
    }
  }

  private static void add(String key, String message, List<Fault> faults) {
    faults.add(new Fault(key, key + ": " + message));
  }
}
