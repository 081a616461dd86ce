package org.stopwell.rig.pi;

/**
 * Motor current through a 12-bit, eight-channel SPI converter of the usual kind: a start bit, a bit
 * for single-ended input and three for the channel go out, twelve bits come back, in three bytes.
 */
final class CurrentSense {
  private static final int START_SINGLE_ENDED = 0x06;
  private static final int FULL_SCALE = 4096;

  private final Pins.Spi converter;
  private final int channel;
  private final int fullScaleMilliAmps;
  private final byte[] bytes = new byte[3];

  /** A channel with a full scale in current, mA. */
  CurrentSense(Pins.Spi converter, int channel, int fullScaleMilliAmps) {
    this.converter = converter;
    this.channel = channel;
    this.fullScaleMilliAmps = fullScaleMilliAmps;
  }

  /** The current now, mA. */
  int milliAmps() {
    bytes[0] = (byte) (START_SINGLE_ENDED | (channel >> 2));
    bytes[1] = (byte) (channel << 6);
    bytes[2] = 0;
    converter.transfer(bytes);
    int code = ((bytes[1] & 0x0F) << 8) | (bytes[2] & 0xFF);
    return code * fullScaleMilliAmps / FULL_SCALE;
  }
}
