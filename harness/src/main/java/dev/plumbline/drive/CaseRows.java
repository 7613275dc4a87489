package dev.plumbline.drive;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.drive.Script.Line;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.KeptCase;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/** Scripts as cases that are kept, and back: by the names of ports and operands. */
public final class CaseRows {
  private final Binding binding;
  private final Contract contract;
  private final List<Operand> operands;

  public CaseRows(Binding binding) {
    this.binding = binding;
    this.contract = binding.contract();
    this.operands = contract.reference().inputs();
  }

  /** A script as it is kept. */
  public KeptCase keep(Script script, String bench, String shows) {
    List<KeptCase.Column> columns = new ArrayList<>();
    for (String port : controls()) {
      columns.add(KeptCase.Column.port(port));
    }
    for (Operand operand : operands) {
      columns.add(new KeptCase.Column(operand.name(), operand));
    }
    return new KeptCase(
        bench,
        binding.design().top(),
        CaseModule.parameters(binding.design()),
        contract.reference().name(),
        shows,
        script.seed(),
        KeptCase.Start.valueOf(script.start().name()),
        script.state(),
        columns,
        script.lines().stream().map(this::row).toList());
  }

  private List<String> controls() {
    List<String> ports = new ArrayList<>();
    for (String port :
        new String[] {
          contract.reset().port(), contract.flow().inValid(), contract.flow().outReady()
        }) {
      if (port != null) {
        ports.add(port);
      }
    }
    return ports;
  }

  private List<BigInteger> row(Line line) {
    List<BigInteger> row = new ArrayList<>();
    if (contract.reset().port() != null) {
      row.add(bit(line.reset() != contract.reset().activeLow()));
    }
    if (contract.flow().inValid() != null) {
      row.add(bit(line.valid()));
    }
    if (contract.flow().outReady() != null) {
      row.add(bit(line.ready()));
    }
    int at = 0;
    for (Operand operand : operands) {
      int words = operand.format().words();
      row.add(
          line.words() == null
              ? null
              : operand.format().fromWords(Arrays.copyOfRange(line.words(), at, at + words)));
      at += words;
    }
    return row;
  }

  private static BigInteger bit(boolean high) {
    return high ? BigInteger.ONE : BigInteger.ZERO;
  }

  /**
   * A case that was kept, as a script.
   *
   * @throws ContractException when it is of another module or of other parameters, lacks a column
   *     of this contract, or has one that fits none, or a code that its operand cannot have
   */
  public Script script(KeptCase kept) {
    CaseModule.require(kept, binding.design());
    List<String> names = kept.columns().stream().map(KeptCase.Column::name).toList();
    List<String> known = new ArrayList<>(controls());
    operands.forEach(operand -> known.add(operand.name()));
    for (String name : names) {
      if (!known.contains(name)) {
        throw refused(kept, "column \"" + name + "\" is nothing that is driven", known);
      }
    }
    for (String name : known) {
      if (!names.contains(name)) {
        throw refused(kept, "column \"" + name + "\" is missing", known);
      }
    }
    List<Line> lines = new ArrayList<>();
    for (List<BigInteger> row : kept.cycles()) {
      lines.add(line(kept, names, row, lines.size()));
    }
    return new Script(Engine.Start.valueOf(kept.start().name()), kept.seed(), kept.state(), lines);
  }

  private Line line(KeptCase kept, List<String> names, List<BigInteger> row, int cycle) {
    boolean reset =
        contract.reset().port() != null
            && isHigh(kept, names, row, contract.reset().port(), cycle)
                != contract.reset().activeLow();
    boolean valid =
        contract.flow().inValid() == null
            || isHigh(kept, names, row, contract.flow().inValid(), cycle);
    boolean ready =
        contract.flow().outReady() == null
            || isHigh(kept, names, row, contract.flow().outReady(), cycle);
    List<Long> words = new ArrayList<>();
    int absent = 0;
    for (Operand operand : operands) {
      Optional<BigInteger> code = Optional.ofNullable(row.get(names.indexOf(operand.name())));
      absent += code.isEmpty() ? 1 : 0;
      for (long word : operand.format().toWords(code(kept, operand, code, cycle))) {
        words.add(word);
      }
    }
    if (absent > 0 && absent < operands.size()) {
      throw refused(
          kept,
          "cycle " + cycle + " has codes for " + (operands.size() - absent) + " operands",
          operands.stream().map(Operand::name).toList());
    }
    return new Line(
        reset,
        valid,
        ready,
        absent > 0 ? null : words.stream().mapToLong(Long::longValue).toArray());
  }

  /** The bits of a file are read by the sign of the operand. */
  private static BigInteger code(
      KeptCase kept, Operand operand, Optional<BigInteger> given, int cycle) {
    Format format = operand.format();
    BigInteger code = given.orElse(BigInteger.ZERO);
    BigInteger span = BigInteger.ONE.shiftLeft(format.width());
    if (format.signed() && code.compareTo(format.maxCode()) > 0 && code.compareTo(span) < 0) {
      code = code.subtract(span);
    }
    if (!format.holds(code)) {
      throw new ContractException(
          "Kept case of \""
              + kept.bench()
              + "\": operand "
              + operand.name()
              + " is "
              + code
              + " in cycle "
              + cycle
              + "; "
              + CodeText.hex(format, format.minCode())
              + " to "
              + CodeText.hex(format, format.maxCode())
              + " are allowed in "
              + format
              + ". Mend the file, or take it away where the format has changed on purpose.");
    }
    return code;
  }

  private static boolean isHigh(
      KeptCase kept, List<String> names, List<BigInteger> row, String port, int cycle) {
    BigInteger code = row.get(names.indexOf(port));
    if (code == null || (code.signum() != 0 && !code.equals(BigInteger.ONE))) {
      throw new ContractException(
          "Kept case of \""
              + kept.bench()
              + "\": port "
              + port
              + " is "
              + (code == null ? "empty" : code)
              + " in cycle "
              + cycle
              + "; 0 and 1 are allowed. Mend the file.");
    }
    return code.signum() != 0;
  }

  private static ContractException refused(KeptCase kept, String what, List<String> allowed) {
    return new ContractException(
        "Kept case of \""
            + kept.bench()
            + "\": "
            + what
            + "; the contract has "
            + String.join(", ", allowed)
            + ". Mend the file, or take it away where the ports have changed on purpose.");
  }
}
