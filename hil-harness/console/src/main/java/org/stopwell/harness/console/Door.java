package org.stopwell.harness.console;

import java.util.List;
import java.util.Optional;
import org.eclipse.jetty.http.HttpFields;
import org.eclipse.jetty.http.HttpHeader;

/**
 * Who may ask at all. Every request is checked before anything else happens: its host, its origin,
 * and what the browser says about the page that asks.
 *
 * @param names every value of the header Host that means this server
 */
record Door(List<String> names) {
  /** A header that a page of another origin cannot send without being asked first. */
  private static final String ASKED_HEADER = "X-Stopwell";

  /** The refusal of a request, or nothing when it may come in. */
  Optional<Reply> refuse(String method, HttpFields headers) {
    List<String> hosts = headers.getValuesList(HttpHeader.HOST);
    // A name that merely resolves to this machine is another site's doing.
    if (hosts.size() != 1 || !names.contains(hosts.get(0))) {
      return refusal("The console has another address: http://" + names.get(0) + "/");
    }
    boolean get = method.equals("GET");
    if (!get && !method.equals("POST")) {
      return Optional.of(Reply.text(405, "The console accepts GET and POST only."));
    }
    if (isOfAnotherOrigin(headers) || isFetchedByAnotherSite(get, headers)) {
      return refusal("Only the pages of the console can ask for this.");
    }
    if (!get && !headers.contains(ASKED_HEADER)) {
      return refusal("Only a page of the console can send this: the header X-Stopwell is missing.");
    }
    return Optional.empty();
  }

  private static Optional<Reply> refusal(String sentence) {
    return Optional.of(Reply.text(403, sentence));
  }

  /**
   * Whether a page of another origin asks. A browser states the origin of every such request, and
   * {@code null} for a page in a sandbox; a program that is no browser states none.
   */
  private boolean isOfAnotherOrigin(HttpFields headers) {
    List<String> own = names.stream().map(name -> "http://" + name).toList();
    return !own.containsAll(headers.getValuesList(HttpHeader.ORIGIN));
  }

  /** Another site, or a run's page in its sandbox, may link to a page, and do nothing else. */
  private static boolean isFetchedByAnotherSite(boolean get, HttpFields headers) {
    String site = headers.get("Sec-Fetch-Site");
    if (site == null || site.equals("same-origin") || site.equals("none")) {
      return false;
    }
    boolean link =
        get
            && "navigate".equals(headers.get("Sec-Fetch-Mode"))
            && "document".equals(headers.get("Sec-Fetch-Dest"));
    return !link;
  }
}
