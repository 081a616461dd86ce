package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import org.stopwell.harness.sign.SigningKey;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** Makes a key to sign with. */
@Command(
    name = "key",
    description = {
      "Makes an Ed25519 key pair. FILE holds the private key: only its owner can read it (mode"
          + " 0600). FILE.pub holds the public key. Neither replaces a file.",
      "Keep FILE secret and keep a copy in another place. Give FILE.pub and the printed key"
          + " number to the person who verifies, before the first trial. A signature proves who"
          + " holds the key. It proves no date."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell key lab.key",
      "  stopwell sign runs/first-stop-001 --key lab.key",
      "  stopwell verify runs/first-stop-001 --key lab.key.pub"
    },
    mixinStandardHelpOptions = true)
final class KeyCommand extends StopwellCommand {
  @Parameters(paramLabel = "FILE", description = "File of the private key.")
  Path file = Path.of("");

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    SigningKey key = SigningKey.make(file);
    out.println("private key " + file + ": keep it secret, and keep a copy in another place");
    out.println("public key " + SigningKey.publicFile(file) + ": give it to who verifies");
    out.println("key number " + key.verifying().id());
    return 0;
  }
}
