package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Isolated;

/** Files that are not what they should be. */
@Isolated("changes what all tests share")
class TreeTest {
  @TempDir Path folder;

  private String xml(String text) throws IOException {
    Path file = Files.writeString(folder.resolve("a.xml"), text);
    RtlException refused =
        assertThrows(RtlException.class, () -> DesignReader.fromXml(file, Map.of()));
    return refused.getMessage().replace(folder.toString(), "here");
  }

  private String json(String tree, String meta) throws IOException {
    Path file = Files.writeString(folder.resolve("a.json"), tree);
    Path files = Files.writeString(folder.resolve("a.meta.json"), meta);
    RtlException refused =
        assertThrows(RtlException.class, () -> DesignReader.fromJson(file, files, Map.of()));
    return refused.getMessage().replace(folder.toString(), "here");
  }

  @Test
  void jsonOfAVersionThatLeavesOutSignsIsRefusedInFavourOfXml() {
    RtlException refused = assertThrows(RtlException.class, () -> Recorded.json("5.032", "lens"));

    assertTrue(
        refused
            .getMessage()
            .endsWith(
                "lens.tree.json\" does not say which numbers are signed; this Verilator still"
                    + " writes XML, so read what --xml-only gives."),
        refused.getMessage());
  }

  @Test
  void aMissingFileIsCalledMissing() {
    Path file = folder.resolve("none.xml");

    RtlException refused =
        assertThrows(RtlException.class, () -> DesignReader.fromXml(file, Map.of()));

    assertEquals(
        "Cannot read Verilator's XML \""
            + file
            + "\": there is no such file; have Verilator write it anew.",
        refused.getMessage());
  }

  @Test
  void aFileCutShortIsRefusedWithItsName() throws IOException {
    String whole = Files.readString(Path.of("src/test/resources/recorded/5.006/lens.xml"));

    assertTrue(
        xml(whole.substring(0, whole.length() / 2))
            .startsWith("Cannot read Verilator's XML \"here/a.xml\": "));
    assertTrue(
        json("{\"type\":\"NETLIST\",\"modulesp\": [", "{\"files\": {}}")
            .startsWith("Cannot read Verilator's JSON \"here/a.json\": "));
  }

  /** The reader of JSON names the whole way down, whatever its length. */
  @Test
  void aFileCutShortDeepInsideIsRefusedInAFewWords() throws IOException {
    String deep = json("{\"modulesp\": " + "[".repeat(5_000) + "7]", "{\"files\": {}}");

    assertTrue(deep.startsWith("Cannot read Verilator's JSON \"here/a.json\": "), deep);
    assertTrue(deep.length() < 500, deep);
    assertTrue(deep.endsWith("have Verilator write it anew."), deep);
  }

  @Test
  void anotherKindOfFileIsRefused() throws IOException {
    assertEquals(
        "\"here/a.xml\" is not the XML that verilator --xml-only writes; have Verilator write it"
            + " anew.",
        xml("<?xml version=\"1.0\" ?>\n<sheet/>"));
    assertEquals(
        "\"here/a.json\" is not the JSON that verilator --json-only writes; have Verilator write it"
            + " anew.",
        json("{\"type\":\"SHEET\"}", "{\"files\": {}}"));
  }

  /** So 5.006 writes it when no top is named. */
  @Test
  void theOnlyModuleIsTheTopWithoutBeingMarked() throws IOException {
    String marked = Files.readString(Path.of("src/test/resources/recorded/5.006/lens.xml"));
    Path file = Files.writeString(folder.resolve("a.xml"), marked.replace(" topModule=\"1\"", ""));

    assertEquals("lens", DesignReader.fromXml(file, Map.of()).top());
  }

  /** Newer JDKs stop XML at a depth of 200, Gson stops JSON at 255, and stacks are finite. */
  @Test
  void expressionsMayNestAsDeepAsTheyLike() throws IOException {
    int depth = 20_000;
    Path xml =
        Files.writeString(
            folder.resolve("deep.xml"),
            "<?xml version=\"1.0\" ?>\n<verilator_xml><netlist><module name=\"deep\"><contassign>"
                + "<not>".repeat(depth)
                + "<varref name=\"a\"/>"
                + "</not>".repeat(depth)
                + "<varref name=\"b\"/></contassign></module></netlist></verilator_xml>");
    Path json =
        Files.writeString(
            folder.resolve("deep.json"),
            "{\"type\":\"NETLIST\",\"modulesp\":[{\"type\":\"MODULE\",\"name\":\"deep\",\"stmtsp\":["
                + "{\"type\":\"NOT\",\"lhsp\":[".repeat(depth)
                + "]}".repeat(depth)
                + "]}]}");
    Path meta = Files.writeString(folder.resolve("deep.meta.json"), "{\"files\": {}}");
    System.setProperty("jdk.xml.maxElementDepth", "200");
    try {
      assertEquals("deep", DesignReader.fromXml(xml, Map.of()).top());
    } finally {
      System.clearProperty("jdk.xml.maxElementDepth");
    }
    assertEquals("deep", DesignReader.fromJson(json, meta, Map.of()).top());
  }

  @Test
  void externalEntitiesAreNotFollowed() throws IOException {
    String text =
        xml(
            "<?xml version=\"1.0\" ?>\n<!DOCTYPE a [<!ENTITY b SYSTEM \"file:///etc/passwd\">]>\n"
                + "<verilator_xml>&b;</verilator_xml>");

    assertTrue(text.contains("DOCTYPE is disallowed"), text);
  }

  @Test
  void aDescriptionWithoutATopIsRefused() throws IOException {
    assertEquals(
        "Verilator's description of [a.sv] names no top module; add the file that has it.",
        xml(
            "<?xml version=\"1.0\" ?>\n"
                + "<verilator_xml><files><file id=\"a\" filename=\"&lt;built-in>\"/><file id=\"b\""
                + " filename=\"a.sv\"/></files><netlist/></verilator_xml>"));
  }
}
