package dev.plumbline.fuzz;

import dev.plumbline.bus.BusException;
import dev.plumbline.bus.RegisterFile;
import dev.plumbline.cli.LineDoor;
import dev.plumbline.contract.ContractException;
import dev.plumbline.drive.PortTextDoor;
import dev.plumbline.evidence.ReportException;
import dev.plumbline.evidence.TableDoor;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.parsing.TextException;
import dev.plumbline.models.program.MemoryFile;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.program.WordLayout;
import dev.plumbline.models.scene.Scene;
import dev.plumbline.report.LedgerDoor;
import dev.plumbline.rtl.DescriptionDoor;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.rtl.VerilatorMessages;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.sweep.RangesDoor;
import dev.plumbline.toolchain.ProgramTextDoor;
import dev.plumbline.toolchain.ToolchainException;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/**
 * A reader of text.
 *
 * @param declared the errors it declares
 * @param texts what is spoilt for it, the shortest first
 */
record Reader(
    String name, Set<Class<? extends Exception>> declared, List<String> texts, Read read) {
  private static final Path RECORDED = Path.of("src/test/resources/recorded");
  private static final Path SCENES = Path.of("../rtl-samples/scenes");
  private static final byte[] TREE = bytes(RECORDED.resolve("5.048/lens.tree.json"));
  private static final byte[] META = bytes(RECORDED.resolve("5.048/lens.tree.meta.json"));
  private static final Class<IllegalArgumentException> ILLEGAL = IllegalArgumentException.class;

  /** How it is given a text. */
  interface Read {
    void read(byte[] text) throws IOException;
  }

  /** The same for those that take characters. */
  private interface ReadText {
    void read(String text) throws IOException;
  }

  static Stream<Reader> all() {
    List<Port> ports = DescriptionDoor.json(TREE, META).ports();
    return Stream.of(
        of("XML", RtlException.class, files(RECORDED, ".*\\.xml"), DescriptionDoor::xml),
        of(
            "JSON",
            RtlException.class,
            files(RECORDED.resolve("5.048"), ".*tree\\.json"),
            text -> DescriptionDoor.json(text, META)),
        of(
            "JSON_META",
            RtlException.class,
            files(RECORDED, ".*meta\\.json"),
            text -> DescriptionDoor.json(TREE, text)),
        text("MESSAGES", null, files(RECORDED, ".*\\.txt"), Reader::messages),
        text(
            "REGISTERS",
            BusException.class,
            List.of(
                "register a 0x04\n field b 7:0 read-write reset 3 volatile # c\n alias 0x14\n",
                "register a 0\nregister b 18446744073709551615\n field c 63:63 one-to-clear\n"),
            RegisterFile::of),
        text(
            "COMPILER",
            null,
            List.of(
                """
                unit.cpp:7:3: error: 'dial__DOT__x' was not declared in this scope
                 7 | x
                """,
                """
                /usr/bin/ld: undefined reference to `ring'
                mold: error: undefined symbol: ring
                """),
            ProgramTextDoor::compiler),
        text(
            "ENDS",
            null,
            List.of(
                "void f() { if (vlSymsp->_vm_contextp__->assertOn()) { VL_STOP_MT(\"a.sv\", 7,"
                    + " \"\"); } VL_WRITEF(\"a { \\\" }\"); VL_STOP_MT(\"b.sv\", 12, \"\"); }"),
            ProgramTextDoor::ends),
        text(
            "RECORD",
            ToolchainException.class, // a name that the locale does not have
            List.of("C \"--cc\"\nS 9120 33 1669 0 1669 0 \"rtl/dial.sv\"\nT 5 3 \"Vdut.cpp\"\n"),
            ProgramTextDoor::record),
        text(
            "VERSION",
            null,
            List.of("Verilator 5.006 2023-01-22 rev (Debian)", "12", "5.048 devel"),
            ProgramTextDoor::version),
        text(
            "ARGUMENT_FILE",
            null,
            List.of("// rtl\n+incdir+inc -y lib\n-I inc/a $HOME/x.sv\n-DW=3 # end\n--trace\n"),
            ProgramTextDoor::fileList),
        text(
            "LITERAL",
            RtlException.class,
            List.of("-8'sd100", "\"mid\\tday $x\"", "-16 ' h_f_f", "32'h45464748", "-1'b1"),
            text -> RtlSource.of().withParameter("P", text).arguments()),
        line(),
        text("FORMAT", ILLEGAL, List.of("s16.16", "u0.32", "s-3.20", "u32.-4"), LineDoor::format),
        text(
            "SEED",
            ILLEGAL,
            List.of("1", "-77", "0xffffffffffffffff", "18446744073709551615"),
            SeedText::parse),
        text(
            "PORT",
            ContractException.class,
            Stream.concat(
                    Stream.of("in_row[3][7:0]", "in_pose.turn", "x[-1]", "clk[0]"),
                    ports.stream().map(port -> port.name() + "[0][3:1]"))
                .toList(),
            text -> PortTextDoor.read(ports, text)),
        text(
            "TABLE",
            IOException.class,
            List.of("bench;cycles\r\na;1\r\n", "\uFEFFa,b\r\n\"x\"\"y\",2\r\n", "a\tb\n1\t2\n"),
            TableDoor::rows),
        new Reader(
            "RANGES",
            Set.of(IOException.class, ReportException.class),
            List.of("key,first_range,last_range\r\nk,0,7\r\nk,9,1023\r\nother,1,2\r\n"),
            text -> RangesDoor.read(new String(text, StandardCharsets.UTF_8), "k")),
        text("LEDGER", ReportException.class, List.of(LEDGER), LedgerDoor::read),
        text("SCENE", TextException.class, files(SCENES, ".*\\.scene"), Scene::parse),
        text(
            "LAYOUT",
            TextException.class,
            List.of(WordLayout.standard(formats()).toString()),
            WordLayout::parse),
        text(
            "MEMORY",
            ILLEGAL,
            List.of("// words\n@0 0123 4_5\n/* and\n more */ ffff\n@a 1\n"),
            text -> MemoryFile.read(text, 16, 32)));
  }

  private static final String LEDGER =
      "{\"bench\":\"dial\",\"outcome\":\"MISMATCH\",\"cases\":10,\"cycles\":22,\"mismatches\":1,\"firstCycle\":5,\"segment\":0,\"words\":\"out"
          + " is 3\",\"seconds\":0.5,"
          + "\"cyclesASecond\":44.0,\"seed\":7,\"contentHash\":\"00ff\",\"bounds\":[{\"output\":\"out\","
          + "\"widest\":\"0\"}],\"coverage\":[{\"name\":\"hit\",\"count\":3}],\"folder\":\"dial\","
          + "\"facts\":\"\"}";

  /** Each word of the command line on a line of its own. */
  private static Reader line() {
    return new Reader(
        "COMMAND_LINE",
        Set.of(ILLEGAL, RtlException.class),
        List.of(
            "ports\n--top\ndial\n-Iinc\n-y\nlib\ndial.sv",
            "draft\n--word\ns16.16\n--direction=s2.14\n--to\nBallTest.java\n--overwrite\nball.sv",
            "shake\n--cycles\n100\n--seed=0x7\n--clock\nclk\n--reset\nrst_n:low\n--assert\na.sv",
            "shake\n--parameter\nW=8'sd3\n-D\nX=1\n-f\nlist.f\n--pass\n-Wno-lint\n--debug\n@a.sv"),
        text -> LineDoor.read(new String(text, StandardCharsets.UTF_8).split("\n", -1)));
  }

  private static Reader of(
      String name, Class<? extends Exception> declared, List<String> texts, Read read) {
    return new Reader(name, declared == null ? Set.of() : Set.of(declared), texts, read);
  }

  private static Reader text(
      String name, Class<? extends Exception> declared, List<String> texts, ReadText read) {
    return of(name, declared, texts, text -> read.read(new String(text, StandardCharsets.UTF_8)));
  }

  private static SceneFormats formats() {
    return new SceneFormats(Format.signed(16, 16), Format.signed(2, 16), Format.signed(16, 16));
  }

  private static void messages(String text) {
    VerilatorMessages.all(text);
    VerilatorMessages.errors(text);
  }

  /** Smaller ones first. */
  private static List<String> files(Path root, String names) {
    try (Stream<Path> files = Files.walk(root)) {
      return files
          .filter(file -> file.getFileName().toString().matches(names))
          .sorted()
          .map(file -> new String(bytes(file), StandardCharsets.UTF_8))
          .sorted(Comparator.comparingInt(String::length))
          .toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static byte[] bytes(Path file) {
    try {
      return Files.readAllBytes(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Override
  public String toString() {
    return name;
  }
}
