package org.stopwell.harness.protocol;

import org.stopwell.harness.stats.SentinelAlarms;
import org.stopwell.harness.stats.Sentinels;
import org.stopwell.rig.random.RandomStream;

/**
 * Sentinels, trials with a known answer, hidden in the order: one in every block of a given number
 * of trials, at a drawn place, and one at the end, so that every trial precedes a sentinel.
 *
 * @param every trials under test in a stretch, at least 1
 * @param expectedMicrons the known answer: remaining distance at rest, µm
 * @param deviationMicrons standard deviation of a sound rig, µm, above 0
 * @param stops whether a bad one stops the campaign until somebody has seen to the bench
 * @param learnedFrom trials that taught the known answer and its deviation; 0 when not recorded
 * @param planned sentinels of the whole campaign, which the widening is made for; 0 when not
 *     recorded
 * @param widening how far the limits of the multirule are moved outwards, in standard deviations; 0
 *     for the multirule as published
 */
public record SentinelRule(
    int every,
    int expectedMicrons,
    int deviationMicrons,
    boolean stops,
    int learnedFrom,
    int planned,
    double widening) {
  /** The condition that sentinels are recorded under. */
  public static final String CONDITION = "sentinel";

  /**
   * Sentinels of which a bad one stops the campaign.
   *
   * @param every trials under test in a stretch, at least 1
   * @param expectedMicrons the known answer: remaining distance at rest, µm
   * @param deviationMicrons standard deviation of a sound rig, µm, above 0
   */
  public SentinelRule(int every, int expectedMicrons, int deviationMicrons) {
    this(every, expectedMicrons, deviationMicrons, /* stops= */ true);
  }

  /**
   * Sentinels under the multirule as published, which run files before version 4 hold.
   *
   * @param every trials under test in a stretch, at least 1
   * @param expectedMicrons the known answer: remaining distance at rest, µm
   * @param deviationMicrons standard deviation of a sound rig, µm, above 0
   * @param stops whether a bad one stops the campaign until somebody has seen to the bench
   */
  public SentinelRule(int every, int expectedMicrons, int deviationMicrons, boolean stops) {
    this(every, expectedMicrons, deviationMicrons, stops, 0, 0, 0);
  }

  /**
   * The same rule with limits that suit the length of the campaign.
   *
   * @param trials trials under test
   * @return the rule, widened so that few campaigns on a sound bench give a false alarm
   */
  public SentinelRule forTrials(int trials) {
    return new SentinelRule(
        every,
        expectedMicrons,
        deviationMicrons,
        stops,
        learnedFrom,
        count(trials),
        SentinelAlarms.widening(count(trials), learnedFrom));
  }

  /**
   * How many sentinels there are.
   *
   * @param trials trials under test
   * @return one per stretch, and one at the end
   */
  public int count(int trials) {
    return (trials + every - 1) / every + 1;
  }

  /**
   * Which trial under test stands at a place of the run order.
   *
   * @param index place in run order, from 0
   * @param trials trials under test
   * @param seed campaign seed
   * @return its number among the trials under test, from 0; −1 for a sentinel
   */
  public int testAt(int index, int trials, long seed) {
    int stretch = index / (every + 1);
    int place = index % (every + 1);
    int first = stretch * every;
    if (first >= trials || first + place > trials) {
      return -1;
    }
    int places = Math.min(every, trials - first) + 1;
    RandomStream stream = RandomStream.of(seed, "place of sentinel " + stretch);
    int sentinel = (int) StrictMath.floor(stream.nextDouble() * places);
    if (place == sentinel) {
      return -1;
    }
    return first + (place > sentinel ? place - 1 : place);
  }

  /**
   * The limits that sentinels are held against.
   *
   * @return the multirule around the known answer
   */
  public Sentinels limits() {
    return new Sentinels(expectedMicrons, deviationMicrons, widening);
  }
}
