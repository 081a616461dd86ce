package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;
import org.jspecify.annotations.Nullable;

/** A progress line with the time left, on standard error when that is a terminal, else nothing. */
final class Progress implements AutoCloseable {
  private final @Nullable ProgressBar bar;

  private Progress(@Nullable ProgressBar bar) {
    this.bar = bar;
  }

  static Progress of(int trials, int done) {
    return of("trials", trials, done);
  }

  static Progress of(String what, long most, long done) {
    if (!terminal()) {
      return none();
    }
    ProgressBar bar =
        new ProgressBarBuilder()
            .setTaskName(what)
            .setInitialMax(most)
            .setStyle(ProgressBarStyle.ASCII)
            .setUpdateIntervalMillis(200)
            .startsFrom(done, java.time.Duration.ZERO)
            .build();
    return new Progress(bar);
  }

  static Progress none() {
    return new Progress(null);
  }

  void add(long more) {
    if (bar != null) {
      bar.stepBy(more);
    }
  }

  /** Another number of what there is to do. */
  void most(long most) {
    if (bar != null) {
      bar.maxHint(most);
    }
  }

  /** Shows a few words beside the progress line; nothing where there is none. */
  void tell(String what) {
    if (bar != null) {
      bar.setExtraMessage(what);
    }
  }

  /** Prints the current activity beside the progress line, or alone where there is none. */
  void say(String what, PrintWriter otherwise) {
    if (bar != null) {
      bar.setExtraMessage(what);
    } else {
      otherwise.println(what);
    }
  }

  @Override
  public void close() {
    if (bar != null) {
      bar.close();
    }
  }

  private static boolean terminal() {
    try {
      String device = Files.readSymbolicLink(Path.of("/proc/self/fd/2")).toString();
      return device.startsWith("/dev/pts/") || device.startsWith("/dev/tty");
    } catch (IOException | UnsupportedOperationException e) {
      return false;
    }
  }
}
