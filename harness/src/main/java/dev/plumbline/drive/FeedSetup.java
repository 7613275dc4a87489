package dev.plumbline.drive;

import dev.plumbline.contract.Reference;

/** What a feed brings together: whose rows it fills, how, for which segment, and what evaluates. */
public record FeedSetup(
    Binding binding,
    Settings settings,
    Segment segment,
    Engine engine,
    Reference.Evaluation evaluation,
    KeptSource source) {
  /** The feed that suits the flow of the contract. */
  public Feed open() {
    if (binding.contract().flow().waits()) {
      return new CaseFeed(this);
    }
    return binding.beats().areSeveral() ? new BeatFeed(this) : new RowFeed(this);
  }
}
