package org.stopwell.harness.spark;

import java.io.IOException;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.URI;
import java.net.URISyntaxException;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.explore.EngineException;

/**
 * Where the cluster is.
 *
 * @param url as Spark writes it
 */
record Master(String url) {
  /** Longest wait for a connection, ms; assumed: a cluster in one house answers in a few. */
  private static final int CONNECT_MS = 5_000;

  private static final String STANDALONE = "spark://";

  /** The master that was asked for, or the one that the program was submitted to. */
  static Master of(String asked) {
    String url = asked.isEmpty() ? System.getProperty("spark.master", "") : asked;
    if (url.isEmpty()) {
      throw new EngineException(
          "--on spark: where is the cluster? Add --master spark://HOST:7077, or --master local[2]"
              + " for two threads of this program");
    }
    Master master = new Master(url);
    if (!url.matches("local(\\[.+])?|yarn|k8s://.+|spark://.+")) {
      throw new EngineException(
          "--master "
              + url
              + ": not an address of a cluster; Spark knows spark://HOST:PORT, k8s://URL, yarn and"
              + " local[N]");
    }
    master.hosts();
    return master;
  }

  /** Whether the workers are threads of this program. */
  boolean inThisProgram() {
    return url.startsWith("local");
  }

  boolean standalone() {
    return url.startsWith(STANDALONE);
  }

  /** Whether the cluster is on this machine and reached by its loopback address. */
  boolean loopback() {
    return standalone() && hosts().stream().allMatch(host -> host.getAddress().isLoopbackAddress());
  }

  /** Host and port of every master of a standalone cluster; none for other clusters. */
  private List<InetSocketAddress> hosts() {
    List<InetSocketAddress> hosts = new ArrayList<>();
    if (standalone()) {
      for (String one : url.substring(STANDALONE.length()).split(",", -1)) {
        try {
          URI uri = new URI(STANDALONE + one);
          if (uri.getHost() == null || uri.getPort() <= 0) {
            throw new URISyntaxException(one, "host and port are missing");
          }
          hosts.add(new InetSocketAddress(uri.getHost(), uri.getPort()));
        } catch (URISyntaxException e) {
          throw new EngineException(
              "--master " + url + ": \"" + one + "\" is not HOST:PORT; an example is node1:7077");
        }
      }
    }
    return hosts;
  }

  /**
   * Asks for a connection, because Spark itself tries for a minute.
   *
   * @throws EngineException when no master answers
   */
  void mustAnswer() {
    List<String> failures = new ArrayList<>();
    for (InetSocketAddress host : hosts()) {
      if (host.isUnresolved()) {
        failures.add(host.getHostString() + " is not a known host");
        continue;
      }
      try (Socket socket = new Socket()) {
        socket.connect(host, CONNECT_MS);
        return;
      } catch (IOException e) {
        failures.add(host.getHostString() + ":" + host.getPort() + ": " + e.getMessage());
      }
    }
    if (!failures.isEmpty()) {
      throw new EngineException(
          "--master "
              + url
              + ": no master answers ("
              + String.join("; ", failures)
              + "). Is the cluster running? ./stopwell spark master starts one");
    }
  }
}
