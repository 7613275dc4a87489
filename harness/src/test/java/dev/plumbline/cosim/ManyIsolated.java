package dev.plumbline.cosim;

/** Opens and closes isolated models; prints how many processes and open files are left over. */
public final class ManyIsolated {
  private ManyIsolated() {}

  public static void main(String[] arguments) {
    CompiledDesign model = Driven.model("night_watch");
    open(model);
    int files = Descriptors.all().size();
    for (int i = 0; i < 20; i++) {
      open(model);
    }
    System.out.println(ProcessHandle.current().children().count());
    System.out.println(Math.max(0, Descriptors.all().size() - files));
  }

  private static void open(CompiledDesign model) {
    try (Dut dut = model.open(DutOptions.defaults().withIsolated(true))) {
      dut.set("order", 1);
      dut.run(dut.batch(16), 16);
    }
  }
}
