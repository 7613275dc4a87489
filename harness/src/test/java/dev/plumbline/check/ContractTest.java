package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.PortFinder;
import dev.plumbline.drive.PortRef;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.AsyncReset;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

class ContractTest {
  private static final Design DESIGN = GearTrain.DESIGN;

  @Test
  void operandsFindPortsOfTheirNameOrWithAPrefix() {
    Binding binding = Binding.of(GearTrain.contract().build(), DESIGN);

    assertEquals(List.of("in_turns", "in_teeth", "in_offset"), binding.layout().inputPorts());
    assertEquals(List.of("out_angle", "out_forward"), binding.layout().outputPorts());
    assertEquals(List.of("rst", "in_valid", "out_valid"), binding.layout().controls());
  }

  @Test
  void aPortThatIsNotThereIsRefusedWithTheNearestNames() {
    refused(
        "Module gear_train has no port \"in_turn\"; the nearest are in_turns, in_teeth, in_valid."
            + " Name the port in the contract.",
        () -> bind(GearTrain.contract().input("turns", "in_turn")));
    refused(
        "Module gear_train has no port \"reset\"; the nearest are rst, clk, in_teeth. Name"
            + " the port in the contract.",
        () -> bind(GearTrain.contract().reset("reset")));
  }

  @Test
  void anOperandThatIsNotThereIsRefusedWithTheNearestNames() {
    refused(
        "The reference has no output \"angel\"; the nearest are angle, forward.",
        () -> GearTrain.contract().tolerance("angel", 1).build());
  }

  @Test
  void aWidthThatDoesNotFitIsRefused() {
    refused(
        "rtl/gear_train.sv:4: Port in_teeth has 8 bits; operand \"turns\" has 16 in its format"
            + " s8.8. Give the reference the format of the port, or set the width by a parameter"
            + " of the RTL.",
        () -> bind(GearTrain.contract().input("turns", "in_teeth")));
  }

  @Test
  void aSignThatDoesNotFitIsRefusedUnlessTheContractDeclaresWhatIsMeant() {
    Reference unsigned =
        Reference.of(
            "gear train",
            List.of(new Operand("turns", Format.unsigned(8, 8)), GearTrain.TEETH, GearTrain.OFFSET),
            List.of(GearTrain.ANGLE),
            (in, out) -> out[0] = 0);
    Contract.Builder contract =
        Contract.of(unsigned).valid("in_valid", "out_valid").reset("rst").latency(3);
    refused(
        "rtl/gear_train.sv:4: Port in_turns is declared signed; operand \"turns\" has the"
            + " unsigned format u8.8. Say signsFromFormats() in the contract if the RTL means the"
            + " same bits.",
        () -> bind(contract));
    assertDoesNotThrow(() -> bind(contract.signsFromFormats()));
  }

  @Test
  void aPortOfTheWrongDirectionIsRefused() {
    refused(
        "rtl/gear_train.sv:4: Port out_valid is an output and cannot carry valid of the cases,"
            + " which needs an input. Name another port in the contract.",
        () -> bind(GearTrain.contract().valid("out_valid", "out_valid")));
  }

  @Test
  void anInputThatNobodyDrivesIsRefused() {
    refused(
        "Nothing drives rst of module gear_train; connect an operand, name it as valid, ready or"
            + " reset, hold(...) it at a value, or all"
            + " such by holdOthers(...).",
        () -> bind(Contract.of(GearTrain.REFERENCE).valid("in_valid", "out_valid").latency(3)));
    assertDoesNotThrow(
        () ->
            bind(
                Contract.of(GearTrain.REFERENCE)
                    .valid("in_valid", "out_valid")
                    .latency(3)
                    .hold("rst", 0)));
  }

  @Test
  void aHeldValueHasToFit() {
    refused(
        "rtl/gear_train.sv:4: Port rst cannot be held at 2; a whole port or array element and a"
            + " code of 1 bits are allowed.",
        () ->
            bind(
                Contract.of(GearTrain.REFERENCE)
                    .valid("in_valid", "out_valid")
                    .latency(3)
                    .hold("rst", 2)));
  }

  @Test
  void aValidOfSeveralBitsIsRefused() {
    refused(
        "rtl/gear_train.sv:4: Port in_teeth has 8 bits and cannot carry valid of the cases; a"
            + " port of one bit is needed.",
        () -> bind(GearTrain.contract().valid("in_teeth", "out_valid")));
  }

  @Test
  void aResetOfTheOtherPolarityIsRefused() {
    Design low =
        new Design(
            "gear_train",
            DESIGN.ports(),
            List.of(),
            DESIGN.clocks(),
            List.of(new AsyncReset("rst", true, GearTrain.at(12))),
            List.of(),
            List.of(),
            List.of());
    refused(
        "rtl/gear_train.sv:12: Reset rst is asserted low by the RTL; the contract says high. Use"
            + " resetLow(...).",
        () -> Binding.of(GearTrain.contract().build(), low));
    assertDoesNotThrow(() -> Binding.of(GearTrain.contract().resetLow("rst").build(), low));
  }

  @Test
  void aLatencyNeedsAClock() {
    Design clockless =
        new Design(
            "gear_train",
            DESIGN.ports().subList(1, DESIGN.ports().size()),
            List.of(),
            List.of(),
            List.of(),
            List.of(),
            List.of(),
            List.of());
    refused(
        "Module gear_train has no clock, so that its results come in the same evaluation; the"
            + " contract says a latency of 3 cycles. Leave the latency at 0.",
        () -> Binding.of(GearTrain.contract().build(), clockless));
  }

  @Test
  void promisesThatContradictEachOtherAreRefused() {
    refused(
        "A latency from 4 to 3 cycles is not possible; the least is 0 or more and not above the"
            + " most.",
        () -> GearTrain.contract().latencyBetween(4, 3).build());
    refused(
        "Cases cannot come 0 cycles apart; 1 or more is allowed.",
        () -> GearTrain.contract().cyclesBetweenInputs(0).build());
    refused(
        "A reset of 0 cycles resets nothing; give 1 or more.",
        () -> GearTrain.contract().resetCycles(0).build());
    refused(
        "Ready ports, a range of latencies or cycles between inputs need valid ports, which the"
            + " contract does not name; add valid(...).",
        () -> Contract.of(GearTrain.REFERENCE).latencyBetween(1, 3).build());
    refused(
        "A tolerance of -1 LSB on output \"angle\" of format s18.8 is not possible; 0 or"
            + " more is allowed, on formats of up to 62 bits.",
        () -> GearTrain.contract().tolerance("angle", -1).build());
    refused(
        "Output \"forward\" cannot depend on \"angle\" of format s18.8; a flag is a checked output"
            + " of one bit.",
        () -> GearTrain.contract().validWhen("forward", "angle").build());
    refused(
        "Output \"angle\" of format s18.8 cannot be 33554432 where it does not count; a code of its"
            + " format is allowed, of up to 62 bits.",
        () -> GearTrain.contract().validWhen("angle", "forward", 1 << 25).build());
    refused(
        "The contract ignores every output of reference \"gear train\", so that nothing would be"
            + " checked; leave at least one.",
        () -> GearTrain.contract().ignoring("angle").ignoring("forward").build());
  }

  @Test
  void aBenchWithoutAContractIsRefused() {
    refused(
        "Bench \"gear_train\" has no contract; give one with contract(...).",
        () -> new Bench.Builder(DESIGN, GearTrain.maker(GearTrain.Fault.NONE), "").build());
  }

  @Test
  void portsAreWrittenAsInVerilog() {
    Port table =
        new Port(
            "table",
            Port.Direction.INPUT,
            8,
            false,
            List.of(new Port.Range(7, 0)),
            List.of(new Port.Range(0, 3)),
            List.of(),
            List.of(),
            GearTrain.at(5));
    Port bus =
        new Port(
            "bus",
            Port.Direction.INPUT,
            96,
            false,
            List.of(new Port.Range(0, 95)),
            List.of(),
            List.of(new Port.Field("ray.x", 31, 0, true)),
            List.of(),
            GearTrain.at(6));
    Design design =
        new Design(
            "frame",
            List.of(table, bus),
            List.of(),
            List.of(),
            List.of(),
            List.of(),
            List.of(),
            List.of());

    assertEquals(
        new PortRef("table[3]", table, "table[3]", 0, 8, false),
        PortFinder.of(design).find("table[3]"));
    assertEquals(
        new PortRef("table[3][7:4]", table, "table[3]", 4, 4, false),
        PortFinder.of(design).find("table[3][7:4]"));
    assertEquals(
        new PortRef("bus[0:31]", bus, "bus", 64, 32, false),
        PortFinder.of(design).find("bus[0:31]"),
        "an ascending range counts from the other end");
    assertEquals(
        new PortRef("bus.ray.x", bus, "bus", 0, 32, true), PortFinder.of(design).find("bus.ray.x"));
    refused(
        "rtl/gear_train.sv:5: \"table[4]\" is not part of port table: its elements are [0:3].",
        () -> PortFinder.of(design).find("table[4]"));
    refused(
        "rtl/gear_train.sv:5: \"table\" is not part of port table: it has 1 array dimensions, each"
            + " needs an index.",
        () -> PortFinder.of(design).find("table"));
    refused(
        "rtl/gear_train.sv:6: \"bus[31:0]\" is not part of port bus: its bits are [0:95].",
        () -> PortFinder.of(design).find("bus[31:0]"));
    assertThrows(
        ContractException.class, () -> PortFinder.of(design).find("bus" + "[0]".repeat(50_000)));
    refused(
        "rtl/gear_train.sv:6: \"bus[99999999999]\" is not part of port bus: its bits are [0:95].",
        () -> PortFinder.of(design).find("bus[99999999999]"));
    refused(
        "rtl/gear_train.sv:6: \"bus.ray.y\" is not part of port bus: among its members the"
            + " nearest are ray.x.",
        () -> PortFinder.of(design).find("bus.ray.y"));
  }

  private static void bind(Contract.Builder contract) {
    Binding.of(contract.build(), DESIGN);
  }

  private static void refused(String message, Executable action) {
    assertEquals(message, assertThrows(ContractException.class, action).getMessage());
  }
}
