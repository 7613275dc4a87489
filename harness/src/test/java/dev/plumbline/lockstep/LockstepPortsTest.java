package dev.plumbline.lockstep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.plumbline.check.GearTrain;
import dev.plumbline.contract.ContractException;
import dev.plumbline.drive.Handshake;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.ArrayList;
import java.util.List;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;

/** How an executor's ports are found, by the rules of every contract. */
class LockstepPortsTest {
  private static Design design(UnaryOperator<List<Port>> change) {
    Design soft = SoftExecutor.DESIGN;
    return new Design(
        soft.top(),
        change.apply(new ArrayList<>(soft.ports())),
        soft.parameters(),
        soft.clocks(),
        soft.asyncResets(),
        soft.state(),
        soft.instances(),
        soft.files());
  }

  private static UnaryOperator<List<Port>> with(Port further) {
    return ports -> {
      ports.removeIf(port -> port.name().equals(further.name()));
      ports.add(further);
      return ports;
    };
  }

  private static String refusal(Executor.Builder executor, Design design) {
    return assertThrows(
            ContractException.class, () -> new Ports(executor.build(), design), "a port is wrong")
        .getMessage();
  }

  /** The three coordinates of an origin in one array. */
  private static Design arrayed() {
    return design(
        ports -> {
          ports.removeIf(port -> port.name().startsWith("ray_origin"));
          Port plain = GearTrain.port("from", Port.Direction.INPUT, 16, true);
          ports.add(
              new Port(
                  plain.name(),
                  plain.direction(),
                  plain.width(),
                  plain.signed(),
                  plain.packed(),
                  List.of(new Port.Range(0, 2)),
                  List.of(),
                  List.of(),
                  plain.location()));
          return ports;
        });
  }

  private static Executor.Builder fromArray(int last) {
    return SoftExecutor.promise()
        .port("ray_origin_x", "from[0]")
        .port("ray_origin_y", "from[1]")
        .port("ray_origin_z", "from[" + last + "]");
  }

  @Test
  void anElementOfAnArrayIsNamedAsInAContract() {
    Ports ports = new Ports(fromArray(2).build(), arrayed());
    assertEquals("from[2]", ports.rayPort("origin_z"));
    assertEquals(
        "rtl/gear_train.sv:4: \"from[3]\" is not part of port from: its elements are [0:2].",
        refusal(fromArray(3), arrayed()));
  }

  @Test
  void aPortThatIsNotThereIsReportedWithTheNearest() {
    assertEquals(
        "Module soft_executor has no port \"result_hits\" for result_hit; the nearest are"
            + " result_hit, result_face, result_tag. Name the port with Executor.port.",
        refusal(SoftExecutor.promise().port("result_hit", "result_hits"), SoftExecutor.DESIGN));
    assertEquals(
        "Executor has no standard port \"result_hits\"; the nearest are result_hit,"
            + " result_face, result_tag.",
        assertThrows(
                ContractException.class,
                () -> SoftExecutor.promise().port("result_hits", "result_hit"))
            .getMessage());
  }

  @Test
  void directionAndWidthHaveToFit() {
    assertEquals(
        "rtl/gear_train.sv:4: Port result_hit is an output and cannot carry ray_any_hit, which"
            + " needs an input. Name another port with Executor.port.",
        refusal(SoftExecutor.promise().port("ray_any_hit", "result_hit"), SoftExecutor.DESIGN));
    assertEquals(
        "rtl/gear_train.sv:4: Port ray_valid has 2 bits and cannot carry ray_valid; a port of one"
            + " bit is needed.",
        refusal(
            SoftExecutor.promise(),
            design(with(GearTrain.port("ray_valid", Port.Direction.INPUT, 2, false)))));
    assertEquals(
        "Port ray_start of module soft_executor has 17 bits; for ray_start 16 are promised."
            + " Correct the executor's formats, spans, limits or layout, or leave the port out"
            + " with Executor.without.",
        refusal(
            SoftExecutor.promise(),
            design(with(GearTrain.port("ray_start", Port.Direction.INPUT, 17, true)))));
    assertEquals(
        "Port ray_start[15:0] (rtl/gear_train.sv:4) cannot carry ray_start in some of its bits; a"
            + " whole port or array element is needed. Name one with Executor.port.",
        refusal(
            SoftExecutor.promise().port("ray_start", "ray_start[15:0]"),
            design(with(GearTrain.port("ray_start", Port.Direction.INPUT, 17, true)))));
  }

  @Test
  void anInputThatNobodyDrivesIsRefusedUnlessItIsHeld() {
    Design enabled = design(with(GearTrain.port("enable", Port.Direction.INPUT, 1, false)));
    assertEquals(
        "Nothing drives enable of module soft_executor; name it with Executor.port, or hold it at a"
            + " value with Executor.hold.",
        refusal(SoftExecutor.promise(), enabled));

    Executor held = SoftExecutor.promise().hold("enable", 1).build();
    Handshake handshake = new Ports(held, enabled).handshake();
    assertEquals(
        List.of(
            "rst",
            "ray_abort",
            "result_ready",
            "load_valid",
            "load_address",
            "load_word",
            "surface_read",
            "surface_address",
            "enable"),
        handshake.byRow());
    new Ports(SoftExecutor.promise().without("ray_start").build(), SoftExecutor.DESIGN);
  }

  @Test
  void aPortThatIsNeededCannotBeLeftOut() {
    assertEquals(
        "An executor cannot be without ray_ready; name its port with Executor.port.",
        refusal(SoftExecutor.promise().without("ray_ready"), SoftExecutor.DESIGN));
  }
}
