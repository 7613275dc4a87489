package dev.plumbline.check;

import dev.plumbline.contract.Flow;
import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Feed;
import dev.plumbline.drive.Hookup;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;

/**
 * How long each case of a run waited for its result. A result belongs to the oldest case under way,
 * of those with its tag where results have tags. A case that waited too long is given up.
 */
final class ResultWaits {
  private final Flow flow;
  private final int longest;
  private final int tag; // the check that tells results apart; -1 where they come in order
  private final int tagOutput; // the same among the outputs of the reference
  private final Reference.Evaluation tags; // null where there are none
  private final List<Waiting> underWay = new ArrayList<>();
  private final List<Integer> ages = new ArrayList<>();
  private int taken;
  private boolean strays; // whether a result came that no case waited for
  private long[] words = {}; // of a case

  private record Waiting(long row, long tag) {}

  ResultWaits(Binding binding, int longest) {
    this.flow = binding.contract().flow();
    this.longest = longest;
    this.tag =
        IntStream.range(0, binding.checks().length)
            .filter(c -> binding.checks()[c].isCalled(flow.tag()))
            .findFirst()
            .orElse(-1);
    Reference reference = binding.contract().reference();
    this.tagOutput = tag < 0 ? -1 : binding.checks()[tag].output();
    this.tags = tag < 0 ? null : reference.open(1);
  }

  void block(long firstRow, Feed feed) {
    Hookup dut = feed.to;
    for (int row = 0; row < feed.rows; row++) {
      if (feed.reset[row] != 0) {
        continue;
      }
      long now = firstRow + row;
      underWay.removeIf(waiting -> now - waiting.row() > longest);
      if (dut.outValid[row] != 0 && flow.validStays()) {
        result(now, feed, row); // that of a case that is taken now is still to come
      }
      if (feed.isTaken(row)) {
        underWay.add(new Waiting(now, tag < 0 ? 0 : tagOf(feed, row)));
        taken++;
      }
      if (dut.outValid[row] != 0 && !flow.validStays()) {
        result(now, feed, row);
      }
    }
  }

  private void result(long now, Feed feed, int row) {
    for (Waiting waiting : underWay) {
      if (tag < 0 || waiting.tag() == feed.to.outputs[tag][0][row]) {
        ages.add((int) (now - waiting.row()));
        underWay.remove(waiting);
        return;
      }
    }
    strays |= !flow.validStays();
  }

  private long tagOf(Feed feed, int row) {
    if (words.length == 0) {
      words = new long[feed.wordsOfCase()];
    }
    feed.gather(feed.inputsAt(row), words);
    int at = 0;
    for (int operand = 0; operand < feed.to.inputs.length; operand++) {
      for (int word = 0; word < feed.to.inputs[operand].length; word++) {
        tags.input(operand, word)[0] = words[at++];
      }
    }
    tags.run(1);
    return tags.low(tagOutput, 0)[0];
  }

  int taken() {
    return taken;
  }

  /** Cycles from a case to its result, in the order of the results. */
  List<Integer> ages() {
    return ages;
  }

  /** Whether each case had its result, and no result came besides. */
  boolean isComplete() {
    return ages.size() == taken && !strays;
  }
}
