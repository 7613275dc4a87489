package dev.plumbline.models.datapath;

import java.util.ArrayList;
import java.util.List;

/** The input columns of one evaluation: found by index, and checked before each run. */
final class Inputs {
  private final Datapath datapath;
  private final Columns columns;
  private final InputCheck legal;

  Inputs(Datapath datapath, Columns columns) {
    this.datapath = datapath;
    this.columns = columns;
    this.legal = new InputCheck(datapath, columns);
  }

  long[] column(int index, int word) {
    return word(columns.lane(value(datapath.inputValues(), "input", index)), index, word);
  }

  private long[] word(Lane lane, int index, int word) {
    return word(datapath, lane, datapath.inputValues().get(index), word);
  }

  /** One word of a lane as values travel: an unsigned value of 64 bits is a single raw word. */
  static long[] word(Datapath datapath, Lane lane, Value value, int word) {
    if (word < 0 || word >= value.format().words()) {
      throw new DatapathException(
          "Word "
              + word
              + " of "
              + value
              + " in "
              + datapath.title()
              + ": it has "
              + value.format().words());
    }
    return word == 0 ? lane.low : lane.high;
  }

  Value value(List<Value> values, String kind, int index) {
    if (index < 0 || index >= values.size()) {
      throw new DatapathException(
          kind
              + " "
              + index
              + " of "
              + datapath.title()
              + ": there are "
              + values.size()
              + ", counted from 0: "
              + values);
    }
    return values.get(index);
  }

  /** The columns of all words of all inputs. */
  List<long[]> columns() {
    List<long[]> all = new ArrayList<>();
    datapath.inputValues().forEach(value -> columns.lane(value).addWordsTo(all));
    return all;
  }

  /** Refuses a count beyond the columns and a code outside its operand's range. */
  void check(int count) {
    if (count < 0 || count > columns.capacity()) {
      throw new DatapathException(
          "Run of "
              + count
              + " cases of "
              + datapath.title()
              + ": the columns hold 0 to "
              + columns.capacity()
              + "; ask for an evaluation of that capacity");
    }
    legal.check(count);
  }
}
