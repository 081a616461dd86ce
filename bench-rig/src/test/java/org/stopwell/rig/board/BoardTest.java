package org.stopwell.rig.board;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.board.Board.Outcome;
import org.stopwell.rig.board.TestBoards.Reference;
import org.stopwell.rig.virtual.Plant;
import org.stopwell.rig.wire.ExchangeFields;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;
import org.stopwell.rig.wire.ReadingFields;
import org.stopwell.rig.wire.Refusal;
import org.stopwell.rig.wire.SceneFields;

class BoardTest {
  private static final long MS = 1_000_000;

  private final Board board =
      new Board(
          TestBoards.identity(true, 2000), BoardTime.lockstep(), new StageModel(() -> 0L), null);
  private final Truth truth = new Truth();
  private final Packet request = new Packet();
  private final Packet answer = new Packet();
  private int session = 77;
  private int sequence;

  @Test
  void aSessionBeginsWithAnIdentity() {
    assertEquals(Outcome.ANSWERED, hello());
    assertEquals(Message.IDENTITY, answer.message());
    assertEquals(77, answer.session());
  }

  @Test
  void beforeAnySessionNothingIsObeyed() {
    ask(Message.SAFE_STOP);
    assertEquals(Refusal.NO_SESSION, refusal());
  }

  @Test
  void aLateCommandOfAnOlderSessionIsRefusedAndChangesNothing() {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    session = 78;
    sequence = 0;
    hello();
    mount();
    exchange(5 * MS, Drive.OFF);

    session = 77;
    sequence = 1000;
    exchange(20 * MS, Drive.FORWARD);

    assertEquals(Refusal.OTHER_SESSION, refusal());
    assertEquals(77, answer.session());
    session = 78;
    sequence = 1000;
    ask(Message.HEARTBEAT);
    assertFalse(motorOn());
    assertEquals(5 * MS, answer.number(Message.STATUS.index("time_ns")));
  }

  @Test
  void aRequestThatComesTwiceIsAnsweredTwiceAndObeyedOnce() {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    assertEquals(Outcome.REPEATED, board.take(request, answer));
    exchange(20 * MS, Drive.FORWARD);
    assertTruth(new Reference().until(10, Drive.FORWARD).until(20, Drive.FORWARD));
  }

  @Test
  void aRequestThatComesAfterALaterOneIsIgnored() {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    sequence -= 2;
    assertEquals(Outcome.IGNORED, exchange(20 * MS, Drive.BACKWARD));
    sequence += 10;
    exchange(20 * MS, Drive.FORWARD);
    assertTruth(new Reference().until(20, Drive.FORWARD));
  }

  @Test
  void sequenceNumbersMayWrapAround() {
    sequence = Integer.MAX_VALUE - 1;
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    assertEquals(Message.READING, answer.message());
  }

  @Test
  void withoutAMountThereIsNoExchange() {
    hello();
    exchange(MS, Drive.FORWARD);
    assertEquals(Refusal.NOT_MOUNTED, refusal());
  }

  @Test
  void timeThatGoesBackwardsIsRefusedAndTakesThePower() {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    exchange(9 * MS, Drive.FORWARD);
    assertEquals(Refusal.BAD_VALUE, refusal());
    ask(Message.HEARTBEAT);
    assertFalse(motorOn());
  }

  @Test
  void theMotorRunsForTheWatchdogTimeAndNoLonger() {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    exchange(500 * MS, Drive.FORWARD);
    assertTrue(ReadingFields.watchdog(answer));
    assertTruth(
        new Reference().until(10, Drive.FORWARD).until(110, Drive.FORWARD).until(500, Drive.OFF));
  }

  @Test
  void aGapOfExactlyTheWatchdogTimeIsAllowed() {
    mountedAt(77);
    exchange(100 * MS, Drive.FORWARD);
    assertFalse(ReadingFields.watchdog(answer));
    assertTruth(new Reference().until(100, Drive.FORWARD));
  }

  @Test
  void whatTheWatchdogTookNeedsANewMount() {
    mountedAt(77);
    exchange(500 * MS, Drive.FORWARD);
    exchange(501 * MS, Drive.FORWARD);
    assertFalse(heartbeatSaysMotorOn());
    mount();
    exchange(20 * MS, Drive.FORWARD);
    assertTrue(truthOfAnswer().speedMilliRpm > 0);
    assertFalse(ReadingFields.watchdog(answer));
  }

  @Test
  void silenceTakesThePowerThoughBoardTimeStandsStill() {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    board.silence();
    exchange(11 * MS, Drive.FORWARD);
    assertTrue(ReadingFields.watchdog(answer));
    assertTruth(new Reference().until(10, Drive.FORWARD).until(11, Drive.OFF));
  }

  @Test
  void silenceWithTheMotorOffIsNoFault() {
    mountedAt(77);
    exchange(10 * MS, Drive.OFF);
    board.silence();
    exchange(11 * MS, Drive.FORWARD);
    assertFalse(ReadingFields.watchdog(answer));
    assertTrue(heartbeatSaysMotorOn());
  }

  @Test
  void aHeartbeatDoesNotKeepTheMotorOn() {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    ask(Message.HEARTBEAT);
    assertTrue(motorOn());
    exchange(500 * MS, Drive.FORWARD);
    assertTrue(ReadingFields.watchdog(answer));
  }

  @Test
  void afterASafeStopOnlyAMountLetsTheMotorTurn() {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    ask(Message.SAFE_STOP);
    exchange(11 * MS, Drive.FORWARD);
    assertFalse(ReadingFields.watchdog(answer));
    assertTruth(new Reference().until(10, Drive.FORWARD).until(11, Drive.OFF));
    mount();
    exchange(1 * MS, Drive.FORWARD);
    assertTrue(heartbeatSaysMotorOn());
  }

  @Test
  void aSafeStopMayComeTwice() {
    hello();
    ask(Message.SAFE_STOP);
    ask(Message.SAFE_STOP);
    assertEquals(Message.OK, answer.message());
    mount();
    exchange(10 * MS, Drive.FORWARD);
    ask(Message.SAFE_STOP);
    ask(Message.SAFE_STOP);
    assertEquals(Message.READING, answer.message());
    assertFalse(heartbeatSaysMotorOn());
  }

  /** The front end delivers a sample after its delay, so that the answer to the mount has none. */
  @Test
  void theFirstReadingMayBeAbsentAndSamplesCountFromOne() {
    mountedAt(77);
    assertEquals(0, answer.number(Message.READING.index("position_kind")));
    assertEquals(0, answer.number(Message.READING.index("sample_sequence")));
    exchange(10 * MS, Drive.OFF);
    assertEquals(1, answer.number(Message.READING.index("position_kind")));
    assertTrue(answer.number(Message.READING.index("sample_sequence")) >= 1);
    assertEquals(1, answer.number(Message.READING.index("stage")));
  }

  @Test
  void aSimulatedBoardPressesTheEmergencyStopWhenTheSceneSays() throws Exception {
    hello();
    mount(Scene.of(Map.of("hand", Map.of("emergency_stop_ms", "50")), 1));
    exchange(40 * MS, Drive.FORWARD);
    assertFalse(stopLine());
    exchange(60 * MS, Drive.FORWARD);
    assertTrue(stopLine() && truthOfAnswer().stopLine);
    exchange(160 * MS, Drive.FORWARD);
    exchange(260 * MS, Drive.FORWARD);
    exchange(360 * MS, Drive.FORWARD);
    exchange(460 * MS, Drive.FORWARD);
    assertTrue(stopLine());
    assertEquals(0, truthOfAnswer().speedMilliRpm);
  }

  private boolean stopLine() {
    return answer.flag(Message.READING.index("stop_line"));
  }

  @Test
  void aNewSessionTakesThePowerAndTheMount() {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    session = 78;
    hello();
    exchange(11 * MS, Drive.FORWARD);
    assertEquals(Refusal.NOT_MOUNTED, refusal());
  }

  @Test
  void aSceneArrivesWithEveryValueItWasWrittenWith() throws Exception {
    Scene sent =
        Scene.of(
            Map.of("canal", Map.of("length_mm", "21.5"), "hand", Map.of("motion", "pecking")),
            0xFEDCBA9876543210L);
    List<SceneFields.Value> values = SceneFields.of(sent);
    Scene received = SceneFields.scene(values, sent.seed());
    assertEquals(values, SceneFields.of(received));
    assertEquals(sent.seed(), received.seed());

    hello();
    mount(sent);
    assertEquals(Message.READING, answer.message());
    Truth wanted = new Truth();
    new Plant(sent).truth(wanted);
    assertEquals(TestBoards.text(wanted), TestBoards.text(truthOfAnswer()));
  }

  @Test
  void aKeyThatTheBoardDoesNotKnowIsNamed() {
    hello();
    begin(1);
    value(new SceneFields.Value("canal.colour", 0, 3, ""));
    ask(Message.MOUNT_END);
    assertEquals(Message.REFUSED, answer.message());
    assertEquals("canal.colour", answer.text(Message.REFUSED.index("key")));
  }

  @Test
  void aSectionThatTheBoardDoesNotKnowIsNamed() {
    hello();
    begin(1);
    value(new SceneFields.Value("weather", 0, 3, ""));
    ask(Message.MOUNT_END);
    assertEquals("weather", answer.text(Message.REFUSED.index("key")));
  }

  @Test
  void aMountWithValuesMissingIsRefused() {
    hello();
    begin(2);
    value(new SceneFields.Value("canal.colour", 0, 3, ""));
    ask(Message.MOUNT_END);
    assertEquals(Refusal.BAD_ORDER, refusal());
  }

  @Test
  void moreValuesThanAnnouncedAreRefused() {
    hello();
    begin(0);
    value(new SceneFields.Value("canal.colour", 0, 3, ""));
    assertEquals(Refusal.BAD_ORDER, refusal());
  }

  @Test
  void answersFromAnotherBoardAreNoRequests() {
    hello();
    assertEquals(Outcome.IGNORED, ask(Message.READING));
  }

  @Test
  void everyKeyOfASceneFitsItsField() throws Exception {
    for (SceneFields.Value value : SceneFields.of(Scene.of(Map.of(), 1))) {
      assertTrue(value.key().length() <= 64, value.key());
      assertTrue(value.word().length() <= 40, value.word());
      assertTrue(value.decimals() <= 9, value.key());
    }
  }

  private Outcome hello() {
    return ask(Message.HELLO);
  }

  private void mountedAt(int newSession) {
    session = newSession;
    hello();
    mount();
  }

  private void mount() {
    mount(TestBoards.scene());
  }

  private void mount(Scene scene) {
    List<SceneFields.Value> values = SceneFields.of(scene);
    next(Message.MOUNT_BEGIN)
        .set(Message.MOUNT_BEGIN.index("seed"), scene.seed())
        .set(Message.MOUNT_BEGIN.index("values"), values.size());
    board.take(request, answer);
    values.forEach(this::value);
    ask(Message.MOUNT_END);
  }

  private void begin(int values) {
    next(Message.MOUNT_BEGIN).set(Message.MOUNT_BEGIN.index("values"), values);
    board.take(request, answer);
  }

  private void value(SceneFields.Value value) {
    value.put(next(Message.MOUNT_VALUE));
    board.take(request, answer);
  }

  private Outcome exchange(long nowNs, Drive drive) {
    ExchangeFields.put(next(Message.EXCHANGE), nowNs, TestBoards.command(drive));
    return board.take(request, answer);
  }

  private Outcome ask(Message message) {
    next(message);
    return board.take(request, answer);
  }

  private Packet next(Message message) {
    sequence++;
    return request.begin(message, session, sequence);
  }

  private void assertTruth(Reference reference) {
    assertEquals(reference.truth(), TestBoards.text(truthOfAnswer()));
  }

  private Truth truthOfAnswer() {
    assertEquals(Message.READING, answer.message());
    ReadingFields.get(answer, truth);
    return truth;
  }

  private boolean heartbeatSaysMotorOn() {
    ask(Message.HEARTBEAT);
    return motorOn();
  }

  private boolean motorOn() {
    assertEquals(Message.STATUS, answer.message());
    return answer.flag(Message.STATUS.index("motor_on"));
  }

  private Refusal refusal() {
    assertEquals(Message.ERROR, answer.message());
    return Refusal.values()[answer.integer(Message.ERROR.index("code"))];
  }
}
