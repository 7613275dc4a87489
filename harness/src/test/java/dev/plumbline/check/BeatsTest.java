package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.plumbline.contract.Beats;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Binding;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

/** What cannot be spread over beats is refused, with what to do. */
class BeatsTest {
  private static final Reference SUM =
      Reference.of(
          "sum",
          List.of(
              new Operand("turns", Format.signed(8, 8)),
              new Operand("teeth", Format.unsigned(8, 0))),
          List.of(new Operand("angle", Format.signed(18, 8))),
          (in, out) -> out[0] = in[0] + in[1]);

  private static Contract.Builder contract(Beats beats) {
    return Contract.of(SUM).valid("in_valid", "out_valid").reset("rst").beats(beats);
  }

  private static void refused(String message, Executable attempt) {
    assertEquals(message, assertThrows(ContractException.class, attempt).getMessage());
  }

  @Test
  void aBeatOutOfRangeIsRefused() {
    refused(
        "Operand \"turns\" cannot come at beat 64; allowed are 0 to 63.",
        () -> Beats.on("in_turns").at(64, "turns", "in_turns"));
    refused(
        "Mark in_last cannot come at beat -1; allowed are 0 to 63.",
        () -> Beats.on("in_turns", "turns").mark("in_last", -1));
  }

  @Test
  void anOperandHasOnePlace() {
    refused(
        "Operand \"turns\" cannot come at beat 1 of port in_turns as well as at beat 0 of port"
            + " in_turns; each operand comes once.",
        () -> Beats.on("in_turns", "turns", "turns"));
    refused(
        "Input \"turns\" is connected to port in_turns and to a beat of port in_offset; each input"
            + " has one place. Leave one of them out.",
        () -> contract(Beats.on("in_offset", "turns", "teeth")).input("turns", "in_turns").build());
  }

  @Test
  void anOperandThatTheReferenceDoesNotHaveIsRefused() {
    refused(
        "The reference has no input \"tooth\"; the nearest are teeth, turns.",
        () -> contract(Beats.on("in_offset", "turns", "tooth")).build());
  }

  @Test
  void anEmptyBeatIsRefused() {
    refused(
        "Nothing comes at beat 1 of the 3 beats of a case; put an operand there, or count the"
            + " others from 0 without a gap.",
        () -> contract(Beats.on("in_offset", "turns").at(2, "teeth", "in_offset")).build());
  }

  @Test
  void beatsNeedValid() {
    refused(
        "A case of 2 beats needs valid ports, which mark where one begins, and the contract names"
            + " none; add valid(...).",
        () -> Contract.of(SUM).beats(Beats.on("in_offset", "turns", "teeth")).build());
  }

  @Test
  void beatsContiguousCannotWait() {
    refused(
        "Beats that follow each other cannot wait for ready port in_ready. Leave out contiguous()"
            + " and validAtFirst(), or hold the block to its valid alone.",
        () ->
            contract(Beats.on("in_offset", "turns", "teeth").contiguous())
                .ready("in_ready", null)
                .build());
  }

  @Test
  void aLatencyFromTheFirstBeatLastsAtLeastToTheLast() {
    Beats beats = Beats.on("in_offset", "turns", "teeth").latencyFromFirst();
    refused(
        "A latency from the first of 2 beats needs them to follow each other without bubbles; add"
            + " contiguous() as well, or count from the last.",
        () -> contract(beats).latency(4).build());
    refused(
        "A latency of 0 cycles from the first of 2 beats would be over before the last has come; 1"
            + " or more is allowed.",
        () -> contract(beats.contiguous()).build());
    assertEquals(3, contract(beats.contiguous()).latency(4).build().flow().mostLatency());
  }

  @Test
  void bitsAreSharedAtDifferentBeatsAlone() {
    refused(
        "rtl/gear_train.sv:4: Operands \"turns\" on in_offset_beat0 and \"teeth\" on"
            + " in_offset[10:3] have bits in common at the same time; give each bits or a beat of"
            + " its own.",
        () ->
            Binding.of(
                contract(Beats.on("in_offset", "turns").mark("in_teeth", 1))
                    .signsFromFormats()
                    .input("teeth", "in_offset[10:3]")
                    .build(),
                GearTrain.DESIGN));
    refused(
        "rtl/gear_train.sv:4: Operands \"turns\" on in_offset[15:0] and \"teeth\" on"
            + " in_offset[15:8] have bits in common at the same time; give each bits or a beat of"
            + " its own.",
        () ->
            Binding.of(
                contract(Beats.on("in_offset[15:0]", "turns").at(0, "teeth", "in_offset[15:8]"))
                    .signsFromFormats()
                    .build(),
                GearTrain.DESIGN));
  }

  @Test
  void aMarkHasOneBit() {
    refused(
        "rtl/gear_train.sv:4: Port in_teeth has 8 bits and cannot carry a mark of beats; a port of"
            + " one bit is needed.",
        () ->
            Binding.of(
                contract(Beats.on("in_offset", "turns", "teeth").mark("in_teeth", 1))
                    .signsFromFormats()
                    .hold("in_turns", 0)
                    .build(),
                GearTrain.DESIGN));
  }

  @Test
  void resetsAreRareEnoughForACase() {
    Bench.Builder bench =
        GearTrain.bench(GearTrain.Fault.NONE)
            .contract(
                contract(Beats.on("in_offset", "turns", "teeth"))
                    .signsFromFormats()
                    .hold("in_turns", 0)
                    .hold("in_teeth", 0)
                    .output("angle", "out_angle")
                    .build())
            .resets(0.5);
    refused(
        "Resets with chance 0.5 in a cycle are too frequent for cases of 2 beats; 0.25 or less is"
            + " allowed.",
        bench::build);
  }
}
