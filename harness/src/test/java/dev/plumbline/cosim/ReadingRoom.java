package dev.plumbline.cosim;

import java.time.Duration;

/** Gives reading rooms orders, each as "order:number", and prints a line on what came of each. */
public final class ReadingRoom {
  private ReadingRoom() {}

  public static void main(String[] arguments) {
    CompiledDesign model = Driven.model("reading_room");
    DutOptions options =
        DutOptions.defaults().withIsolated(false).withTimeout(Duration.ofSeconds(5));
    for (String argument : arguments) {
      String[] parts = argument.split(":", -1);
      String came;
      try (Dut dut = model.open(options)) {
        dut.set("order", Long.parseLong(parts[0]));
        dut.set("number", Long.parseLong(parts[1]));
        dut.cycles(2);
        came = "given " + dut.get("given") + ' ' + dut.text();
      } catch (DutException e) {
        came = e.getMessage();
      }
      String line = argument + ' ' + came.replaceAll("\\R", " ");
      System.out.println(line.substring(0, Math.min(400, line.length())));
    }
  }
}
