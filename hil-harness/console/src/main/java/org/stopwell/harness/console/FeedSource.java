package org.stopwell.harness.console;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import org.stopwell.harness.live.LiveView;

/** The live feed of a campaign, in this program or another, for the channel to browsers. */
final class FeedSource implements LiveSource {
  private final LiveView view;
  private boolean over;

  private FeedSource(LiveView view) {
    this.view = view;
  }

  static Optional<LiveSource> open(Path run) {
    return LiveView.open(run).map(FeedSource::new);
  }

  @Override
  public Optional<byte[]> next() throws IOException {
    if (over) {
      throw new IOException("the campaign has ended or its program is gone");
    }
    Optional<byte[]> news = view.news();
    over = view.isOver();
    return news;
  }

  @Override
  public void close() {
    view.close();
  }
}
