package org.stopwell.rig.random;

import java.util.Optional;

/**
 * Random numbers of a trial that somebody else chooses: for a search that walks from one trial to
 * its neighbours. A trial whose tapes hold independent numbers has the distribution of a trial of
 * the campaign.
 */
@FunctionalInterface
public interface Tapes {
  /** No tape: every stream gives what its seed says. */
  Tapes NONE = stream -> Optional.empty();

  /**
   * The tape in place of a stream. A stream that begins again goes on where its tape is.
   *
   * @param stream name of the stream
   * @return empty where the seed counts
   */
  Optional<Tape> of(String stream);

  /** The numbers of one stream. */
  interface Tape {
    /**
     * The next number of the standard normal distribution.
     *
     * @return mean 0, standard deviation 1
     */
    double nextGaussian();

    /**
     * The next number of a uniform distribution.
     *
     * @return at least 0, less than 1
     */
    double nextDouble();
  }
}
