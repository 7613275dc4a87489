package dev.plumbline.check;

/** What a feed brings together: whose rows it fills, how, for which stretch, and what evaluates. */
record FeedSetup(
    Binding binding,
    Settings settings,
    Stretch stretch,
    Engine engine,
    Reference.Evaluation evaluation) {
  /** The feed that suits the flow of the contract. */
  Feed open() {
    if (binding.contract().flow().inReady() != null) {
      return new CaseFeed(this);
    }
    return binding.beats().areSeveral() ? new BeatFeed(this) : new RowFeed(this);
  }
}
