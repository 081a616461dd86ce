package org.stopwell.harness.breaking;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import org.stopwell.harness.explore.KeptPieces;

/**
 * The finished parts of a search as a file of its output directory. A second start finds them and
 * does the rest.
 */
public final class BreakState {
  /** Name of the file. */
  public static final String NAME = "break.state";

  private final KeptPieces pieces;

  /**
   * Opens the file of a search, or begins it.
   *
   * @param directory output directory, which exists
   * @param fingerprint of the search
   * @throws IOException when the file belongs to another search or is damaged; the message says so
   */
  public BreakState(Path directory, String fingerprint) throws IOException {
    pieces =
        new KeptPieces(
            directory.resolve(NAME),
            "stopwell break " + fingerprint,
            "plan, condition, option, settings file, own policy or build");
  }

  /**
   * How many parts are finished.
   *
   * @return parts
   */
  public int parts() {
    return pieces.names().size();
  }

  Optional<Piece> find(String part) {
    return pieces.find(part).map(Piece::of);
  }

  void keep(String part, Piece piece) {
    pieces.keep(part, piece.toBytes());
  }
}
