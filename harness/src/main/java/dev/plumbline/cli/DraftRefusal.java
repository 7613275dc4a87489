package dev.plumbline.cli;

import dev.plumbline.contract.ContractException;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/** What is said where ports leave a draft open: what to write instead. */
final class DraftRefusal {
  private final Design design;
  private final List<String> blocks;

  /**
   * Refusals for a design.
   *
   * @param blocks what may be chosen
   */
  DraftRefusal(Design design, List<String> blocks) {
    this.design = design;
    this.blocks = blocks;
  }

  /** It cannot be told which block the design is. */
  ContractException ofBlock(String what) {
    return new ContractException(
        what
            + "; choose --block "
            + String.join(", ", blocks)
            + "; a module that computes none of these is held to a Datapath of your own through a"
            + " Contract (README, \"Your own Verilog\"); operands that come in several beats of one"
            + " bus are placed by .beats(Beats.on(\"BUS\", \"origin_x\", ...)) of that block's"
            + " bench, those side by side in one port by .packed(\"PORT\", \"origin_x\", ...), and"
            + " a block behind registers is driven by a Bus in a test of its own (RECIPES.md,"
            + " \"Registers, by hand and from a text\"). Ports: "
            + ports()
            + ".");
  }

  /**
   * The block was chosen, and no port is called as an operand of it.
   *
   * @param bench the class of its bench
   */
  ContractException ofOperand(String operand, String block, String bench) {
    String bus = widestInput().map(Port::name).orElse("PORT");
    return new ContractException(
        "No port of module "
            + design.top()
            + " is called as \""
            + operand
            + "\" of a "
            + block
            + " may be; a draft goes by names. Ports: "
            + ports()
            + ". Write the test by hand, with "
            + bench
            + ".of(bench), its formats, and how the operands come:\n  .port(\""
            + operand
            + "\", \""
            + bus
            + "\") for an operand on a port of its own, or on a part of one (\""
            + bus
            + "[15:0]\")\n  .packed(\""
            + bus
            + "\", \""
            + operand
            + "\", ...) for all the operands side by side in a port, lowest bits first\n"
            + "  .beats(Beats.on(\""
            + bus
            + "\", \""
            + operand
            + "\", ...)) for operands that come in turn\n"
            + "A block whose operands are written to registers is driven by a Bus instead"
            + " (RECIPES.md, \"Registers, by hand and from a text\").");
  }

  private Optional<Port> widestInput() {
    return design.ports().stream()
        .filter(port -> port.direction() == Port.Direction.INPUT)
        .max(Comparator.comparingInt(Port::width));
  }

  private String ports() {
    return design.ports().stream()
        .map(port -> port.name() + " (" + port.width() + ")")
        .collect(Collectors.joining(", "));
  }
}
