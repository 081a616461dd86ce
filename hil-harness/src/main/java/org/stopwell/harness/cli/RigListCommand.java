package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.serial.SerialPorts;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Spec;

/** The serial ports of this machine. */
@Command(
    name = "list",
    description = "Lists the serial ports of this machine.",
    mixinStandardHelpOptions = true)
final class RigListCommand implements Callable<Integer> {
  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() {
    PrintWriter out = Objects.requireNonNull(spec).commandLine().getOut();
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
    if (ports.isEmpty()) {
      out.println("no serial port");
    }
    return 0;
  }
}
