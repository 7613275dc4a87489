/**
 * Reads RTL, has Verilator build it, drives it through JNA and holds it to a reference.
 *
 * <p>What is exported is what a user writes against. Packages {@code drive}, {@code judge}, {@code
 * window}, {@code stage}, {@code run}, {@code explain}, {@code wiring}, {@code coverage} and {@code
 * text} are the machinery behind it, {@code cli} and {@code watch} are a program.
 */
module dev.plumbline.harness {
  requires com.google.gson;
  requires com.sun.jna;
  requires com.samskivert.jmustache;
  requires java.management;
  requires java.xml;
  requires jdk.management; // how much memory there is
  requires me.tongfei.progressbar;
  requires org.apache.commons.csv;
  requires static info.picocli; // the command line alone
  requires static org.junit.platform.launcher; // the command line alone
  requires static transitive org.junit.jupiter.api; // the JUnit extension alone
  requires transitive dev.plumbline.models;
  requires transitive org.opentest4j;

  exports dev.plumbline;
  exports dev.plumbline.blocks;
  exports dev.plumbline.bus;
  exports dev.plumbline.cases;
  exports dev.plumbline.check;
  exports dev.plumbline.contract;
  exports dev.plumbline.cosim;
  exports dev.plumbline.evidence;
  exports dev.plumbline.faults;
  exports dev.plumbline.frame;
  exports dev.plumbline.junit;
  exports dev.plumbline.lockstep;
  exports dev.plumbline.regression;
  exports dev.plumbline.report;
  exports dev.plumbline.rtl;
  exports dev.plumbline.stimulus;
  exports dev.plumbline.sweep;
  exports dev.plumbline.toolchain;
  exports dev.plumbline.verdict;

  opens dev.plumbline.cli to
      info.picocli;
  opens dev.plumbline.report to
      com.samskivert.jmustache;

  provides dev.plumbline.models.rows.RowCompiler with
      dev.plumbline.cosim.RowLibraries;
}
