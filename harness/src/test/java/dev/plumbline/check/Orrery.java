package dev.plumbline.check;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.nio.file.Path;
import java.util.List;

/**
 * Blocks with state, as RTL in {@code src/test/rtl/stateful}, and what their headers promise. The
 * references are written from the headers.
 */
enum Orrery {
  TURN_SUM("turn_sum", 2, 2) {
    @Override
    Reference reference() {
      return Reference.stateful(
          "turn sum",
          List.of(operand("clear", Format.bit()), operand("step", Format.signed(16, 0))),
          List.of(operand("sum", Format.signed(24, 0))),
          () -> {
            long[] sum = new long[1];
            return (in, out) -> {
              sum[0] = in[0] != 0 ? in[1] : sum[0] + in[1];
              out[0] = sum[0];
            };
          });
    }
  },
  DRIFT_FILTER("drift_filter", 1, 1) {
    @Override
    Reference reference() {
      return Reference.stateful(
          "drift filter",
          List.of(operand("drift", Format.signed(12, 0))),
          List.of(operand("smooth", Format.signed(14, 0))),
          () -> {
            long[] before = new long[2];
            return (in, out) -> {
              out[0] = in[0] + 2 * before[0] + before[1];
              before[1] = before[0];
              before[0] = in[0];
            };
          });
    }
  },
  TRAY("tray", 1, 4) {
    @Override
    Reference reference() {
      return Reference.stateful(
          "tray",
          List.of(operand("token", Format.unsigned(8, 0))),
          List.of(operand("token", Format.unsigned(8, 0)), operand("change", Format.signed(9, 0))),
          () -> {
            long[] before = new long[1];
            return (in, out) -> {
              out[0] = in[0];
              out[1] = in[0] - before[0];
              before[0] = in[0];
            };
          });
    }
  },
  SEASON_SUM("season_sum", 1, 1) {
    @Override
    Reference reference() {
      return Reference.statefulStream(
          "season sum",
          List.of(operand("quarter", Format.signed(16, 0))),
          List.of(operand("year", Format.signed(18, 0))),
          () -> {
            long[] year = new long[2]; // sum, quarters
            return (in, results) -> {
              year[0] += in[0];
              if (++year[1] == 4) {
                results.give(year[0]);
                year[0] = 0;
                year[1] = 0;
              }
            };
          });
    }
  },
  PLAQUE("plaque", 1, 1) {
    @Override
    Reference reference() {
      return Reference.statefulStream(
          "plaque",
          List.of(
              operand("letters", Format.unsigned(32, 0)), operand("more", Format.unsigned(2, 0))),
          List.of(
              operand("letter", Format.unsigned(8, 0)),
              operand("number", Format.unsigned(4, 0)),
              operand("last", Format.bit())),
          () -> {
            long[] plaques = new long[1];
            return (in, results) -> {
              for (int n = 0; n <= in[1]; n++) {
                results.give(in[0] >> (8 * n), plaques[0], n == in[1] ? 1 : 0);
              }
              plaques[0]++;
            };
          });
    }
  };

  private final String top;
  private final int least;
  private final int most;

  Orrery(String top, int least, int most) {
    this.top = top;
    this.least = least;
    this.most = most;
  }

  abstract Reference reference();

  static Operand operand(String name, Format format) {
    return new Operand(name, format);
  }

  Path rtl() {
    return Path.of("src/test/rtl/stateful", top + ".sv");
  }

  Contract.Builder contract(Reference reference) {
    Contract.Builder contract =
        Contract.of(reference)
            .valid("in_valid", "out_valid")
            .reset("rst")
            .latencyBetween(least, most);
    return this == TRAY || this == PLAQUE ? contract.ready("in_ready", "out_ready") : contract;
  }

  Contract contract() {
    return contract(reference()).build();
  }
}
