package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.List;
import org.stopwell.rig.serial.BoardSearch;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.serial.SerialPorts;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** The serial ports of this machine. */
@Command(
    name = "list",
    description = {
      "Lists the serial ports of this machine.",
      "With --boards the command asks every port for its board: kind, serial number,"
          + " firmware and hash. The question ends a session of another program with the board,"
          + " so ask only while nothing runs."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell rig list --boards",
      "  stopwell run PLAN --bench serial --port board:C-0001"
    },
    mixinStandardHelpOptions = true)
final class RigListCommand extends StopwellCommand {
  @Option(names = "--boards", description = "Ask every port for its board; takes up to 5 s.")
  boolean boards;

  @Option(
      names = "--baud",
      paramLabel = "N",
      description = "With --boards: speed of the lines. Default: ${DEFAULT-VALUE}.",
      defaultValue = "" + SerialLink.BAUD)
  int baud = SerialLink.BAUD;

  @Override
  public Integer call() {
    PrintWriter out = out();
    List<SerialPorts.PortInfo> ports = SerialPorts.list();
    for (SerialPorts.PortInfo port : ports) {
      out.println(
          port.name()
              + "  "
              + port.description()
              + (port.vendorId() < 0
                  ? ""
                  : String.format(
                      java.util.Locale.ROOT, "  USB %04x:%04x", port.vendorId(), port.productId()))
              + (port.adapterSerialNumber().isEmpty()
                  ? ""
                  : "  adapter " + port.adapterSerialNumber()));
    }
    if (boards) {
      List<String> names = ports.stream().map(SerialPorts.PortInfo::name).toList();
      BoardSearch.ask(names, baud).forEach(answer -> out.println(answer.line()));
    }
    if (ports.isEmpty()) {
      out.println("no serial port");
    }
    return 0;
  }
}
