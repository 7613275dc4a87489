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

/** Files that are not what they should be. */
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
                "lens.tree.json' does not say which numbers are signed; this Verilator still"
                    + " writes XML, so read what --xml-only gives"),
        refused.getMessage());
  }

  @Test
  void aMissingFileIsCalledMissing() {
    Path file = folder.resolve("none.xml");

    RtlException refused =
        assertThrows(RtlException.class, () -> DesignReader.fromXml(file, Map.of()));

    assertEquals(
        "cannot read Verilator's XML '"
            + file
            + "': there is no such file; have Verilator write it anew",
        refused.getMessage());
  }

  @Test
  void aFileCutShortIsRefusedWithItsName() throws IOException {
    String whole = Files.readString(Path.of("src/test/resources/recorded/5.006/lens.xml"));

    assertTrue(
        xml(whole.substring(0, whole.length() / 2))
            .startsWith("cannot read Verilator's XML 'here/a.xml': "));
    assertTrue(
        json("{\"type\":\"NETLIST\",\"modulesp\": [", "{\"files\": {}}")
            .startsWith("cannot read Verilator's JSON 'here/a.json': "));
  }

  @Test
  void anotherKindOfFileIsRefused() throws IOException {
    assertEquals(
        "'here/a.xml' is not the XML that verilator --xml-only writes",
        xml("<?xml version=\"1.0\" ?>\n<sheet/>"));
    assertEquals(
        "'here/a.json' is not the JSON that verilator --json-only writes",
        json("{\"type\":\"SHEET\"}", "{\"files\": {}}"));
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
        "Verilator's description names no top module",
        xml("<?xml version=\"1.0\" ?>\n<verilator_xml><netlist/></verilator_xml>"));
  }
}
