package org.stopwell.rig.serial;

import com.fazecast.jSerialComm.SerialPort;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;

/** The serial ports of this machine. */
public final class SerialPorts {
  private SerialPorts() {}

  /**
   * One port. USB numbers are -1 and texts are empty where the system does not report them.
   *
   * @param name what to open
   * @param description what the system calls it
   * @param vendorId USB vendor, 16 bits
   * @param productId USB product, 16 bits
   * @param adapterSerialNumber serial number of the USB adapter, not of the board behind it
   */
  public record PortInfo(
      String name, String description, int vendorId, int productId, String adapterSerialNumber) {}

  /**
   * Lists the ports that are there now.
   *
   * @return by name
   */
  public static List<PortInfo> list() {
    return Arrays.stream(SerialPort.getCommPorts())
        .map(
            p ->
                new PortInfo(
                    p.getSystemPortPath(),
                    p.getPortDescription(),
                    p.getVendorID(),
                    p.getProductID(),
                    p.getSerialNumber() == null ? "" : p.getSerialNumber()))
        .sorted(Comparator.comparing(PortInfo::name))
        .toList();
  }
}
