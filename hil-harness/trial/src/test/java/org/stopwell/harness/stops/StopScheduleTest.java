package org.stopwell.harness.stops;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.StopPlan;

class StopScheduleTest {
  @Test
  void everyOperatorTriesEveryDeviceEquallyOftenInEveryPlace() throws Exception {
    StopPlan plan = plan(18, "[A, B, C]", "[o1, o2, o3]");
    assertEquals(List.of(), StopSchedule.missing(plan));
    List<String> rows = StopSchedule.rows(plan, d -> d.equals("A") ? "X" : d);
    assertEquals(1 + 54, rows.size());
    Map<String, Integer> found = new HashMap<>();
    for (int i = 1; i < rows.size(); i++) {
      String[] cells = rows.get(i).split(",", -1);
      assertEquals(12, cells.length);
      assertEquals(Integer.toString(i), cells[11]);
      int place = (i - 1) % 3;
      found.merge(cells[3] + cells[1] + place, 1, Integer::sum);
    }
    assertEquals(27, found.size());
    assertEquals(Set.of(2), Set.copyOf(found.values()), found.toString());
    assertTrue(rows.stream().noneMatch(r -> r.contains(",A,")));
  }

  @Test
  void aScheduleThatIsNotBalancedIsRefused() throws Exception {
    assertEquals(
        List.of(
            "teeth: 10 teeth, must be a multiple of 12: a latin square of 3 devices at settings takes"
                + " 6 teeth of each of 2 operators"),
        StopSchedule.missing(plan(10, "[A, B, C]", "[o1, o2]")));
    assertTrue(
        StopSchedule.missing(plan(10, "[A, B]", "[]")).get(0).startsWith("operators: missing"));
  }

  private static StopPlan plan(int teeth, String devices, String operators) throws PlanException {
    List<String> codes = IntStream.rangeClosed(1, teeth).mapToObj(i -> "T" + i).toList();
    return StopPlan.read(
        new Source(
            "plan.yaml",
            "import: 1\nname: square\nstandoff_mm: {s: 0.5}\ndevices: "
                + devices
                + "\noperators: "
                + operators
                + "\nteeth: ["
                + String.join(", ", codes)
                + "]\n"));
  }
}
