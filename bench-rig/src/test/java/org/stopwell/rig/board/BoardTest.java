package org.stopwell.rig.board;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.board.Board.Outcome;
import org.stopwell.rig.wire.ExchangeFields;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;
import org.stopwell.rig.wire.ReadingFields;
import org.stopwell.rig.wire.Refusal;
import org.stopwell.rig.wire.SceneFields;

class BoardTest {
  private static final long MS = 1_000_000;

  private final ShaftPlant shaft = new ShaftPlant();
  private final Board board = new Board(ShaftPlant.identity(true), shaft, BoardTime.lockstep());
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
  void aLateCommandOfAnOlderSessionIsRefusedAndChangesNothing() throws Exception {
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
    assertFalse(shaft.power);
    assertEquals(5 * MS, shaft.truth().timeNs);
  }

  @Test
  void aRequestThatComesTwiceIsAnsweredTwiceAndObeyedOnce() throws Exception {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    assertEquals(Outcome.REPEATED, board.take(request, answer));
    assertEquals(10 * MS, shaft.poweredNs.get());
  }

  @Test
  void aRequestThatComesAfterALaterOneIsIgnored() throws Exception {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    sequence -= 2;
    assertEquals(Outcome.IGNORED, exchange(20 * MS, Drive.FORWARD));
    assertEquals(10 * MS, shaft.poweredNs.get());
  }

  @Test
  void sequenceNumbersMayWrapAround() throws Exception {
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
  void timeThatGoesBackwardsIsRefusedAndTakesThePower() throws Exception {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    exchange(9 * MS, Drive.FORWARD);
    assertEquals(Refusal.BAD_VALUE, refusal());
    ask(Message.HEARTBEAT);
    assertFalse(answer.flag(Message.STATUS.index("motor_on")));
  }

  @Test
  void theMotorRunsForTheWatchdogTimeAndNoLonger() throws Exception {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    exchange(500 * MS, Drive.FORWARD);
    assertEquals(110 * MS, shaft.poweredNs.get());
    assertTrue(ReadingFields.watchdog(answer));
    assertEquals(0, shaft.truth().speedMilliRpm);
  }

  @Test
  void aGapOfExactlyTheWatchdogTimeIsAllowed() throws Exception {
    mountedAt(77);
    exchange(100 * MS, Drive.FORWARD);
    assertFalse(ReadingFields.watchdog(answer));
    assertEquals(100 * MS, shaft.poweredNs.get());
  }

  @Test
  void whatTheWatchdogTookNeedsANewMount() throws Exception {
    mountedAt(77);
    exchange(500 * MS, Drive.FORWARD);
    exchange(501 * MS, Drive.FORWARD);
    assertEquals(0, shaft.truth().speedMilliRpm);
    mount();
    exchange(1 * MS, Drive.FORWARD);
    assertTrue(shaft.power);
    assertFalse(ReadingFields.watchdog(answer));
  }

  @Test
  void silenceTakesThePowerThoughBoardTimeStandsStill() throws Exception {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    board.silence();
    exchange(11 * MS, Drive.FORWARD);
    assertTrue(ReadingFields.watchdog(answer));
    assertEquals(10 * MS, shaft.poweredNs.get());
  }

  @Test
  void silenceWithTheMotorOffIsNoFault() throws Exception {
    mountedAt(77);
    exchange(10 * MS, Drive.OFF);
    board.silence();
    exchange(11 * MS, Drive.FORWARD);
    assertFalse(ReadingFields.watchdog(answer));
    assertTrue(shaft.power);
  }

  @Test
  void aHeartbeatDoesNotKeepTheMotorOn() throws Exception {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    ask(Message.HEARTBEAT);
    assertTrue(answer.flag(Message.STATUS.index("motor_on")));
    exchange(500 * MS, Drive.FORWARD);
    assertTrue(ReadingFields.watchdog(answer));
  }

  @Test
  void afterASafeStopOnlyAMountLetsTheMotorTurn() throws Exception {
    mountedAt(77);
    exchange(10 * MS, Drive.FORWARD);
    ask(Message.SAFE_STOP);
    exchange(11 * MS, Drive.FORWARD);
    assertFalse(shaft.power);
    assertFalse(ReadingFields.watchdog(answer));
    mount();
    exchange(1 * MS, Drive.FORWARD);
    assertTrue(shaft.power);
  }

  @Test
  void aNewSessionTakesThePowerAndTheMount() throws Exception {
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
    hello();
    mount(sent);
    assertEquals(Message.READING, answer.message());
    Scene received = shaft.scene;
    assertNotNull(received);
    assertEquals(sent.seed(), received.seed());
    assertEquals(SceneFields.of(sent), SceneFields.of(received));
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

  private void mountedAt(int newSession) throws Exception {
    session = newSession;
    hello();
    mount();
  }

  private void mount() throws Exception {
    mount(Scene.of(Map.of(), 1));
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
    ControllerOutput command = new ControllerOutput();
    command.drive = drive;
    command.speedMilliRpm = 300_000;
    ExchangeFields.put(next(Message.EXCHANGE), nowNs, command);
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

  private Refusal refusal() {
    assertEquals(Message.ERROR, answer.message());
    return Refusal.values()[answer.integer(Message.ERROR.index("code"))];
  }
}
