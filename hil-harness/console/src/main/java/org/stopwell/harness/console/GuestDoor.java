package org.stopwell.harness.console;

import java.util.Optional;
import org.eclipse.jetty.http.HttpCookie;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;

/** Guests show the token once, then their browser keeps it. They may only look. */
record GuestDoor(Guests guests) {
  private static final String COOKIE = "stopwell";
  private static final String ASKED = "token=";
  private static final String BEARER = "Bearer ";

  /** The refusal of a guest's request, or nothing when it may come in. */
  Optional<Reply> refuse(Request request) {
    if (!knowsToken(request)) {
      return Optional.of(
          Reply.text(
              403, "This address needs the token that the console printed when it started."));
    }
    if (!request.getMethod().equals("GET")) {
      return Optional.of(
          Reply.text(403, "From another machine the console can only be looked at."));
    }
    return Optional.empty();
  }

  /** True after the token came with the address: it is kept, and the address is free of it. */
  boolean takesToken(Request request, Response response) {
    String said = asked(request);
    if (!guests.admits(said)) {
      return false;
    }
    HttpCookie cookie =
        HttpCookie.build(COOKIE, said)
            .httpOnly(true)
            .path("/")
            .sameSite(HttpCookie.SameSite.STRICT)
            .build();
    Response.addCookie(response, cookie);
    response.getHeaders().put(HttpHeader.LOCATION, request.getHttpURI().getPath());
    return true;
  }

  private boolean knowsToken(Request request) {
    String header = request.getHeaders().get(HttpHeader.AUTHORIZATION);
    boolean byHeader =
        header != null
            && header.startsWith(BEARER)
            && guests.admits(header.substring(BEARER.length()));
    return byHeader
        || Request.getCookies(request).stream()
            .anyMatch(c -> c.getName().equals(COOKIE) && guests.admits(c.getValue()))
        || guests.admits(asked(request));
  }

  private static String asked(Request request) {
    String query = request.getHttpURI().getQuery();
    return query != null && query.startsWith(ASKED) ? query.substring(ASKED.length()) : "";
  }
}
