/** The sample chip of the museum orrery: its benches, regression, planted faults and benchmark. */
module dev.plumbline.samples {
  requires com.sun.jna; // the benchmark measures what a call a signal would cost
  requires dev.plumbline.harness;
  requires java.management;
  requires jdk.management;
}
