package org.stopwell.harness.cli;

import picocli.CommandLine.Option;

/** Whether a simulated bench asks what a physical one asks. */
final class AskOption {
  @Option(
      names = "--ask",
      description =
          "Ask the questions of a plan on extracted teeth on a simulated bench too, to rehearse."
              + " A physical bench always asks.")
  boolean wanted;
}
