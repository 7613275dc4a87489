package dev.plumbline.rtl;

import java.io.ByteArrayInputStream;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Map;

/** Descriptions read from memory, for tests of other packages that read very many. */
public final class DescriptionDoor {
  private static final Path NOWHERE = Path.of("in memory");

  private DescriptionDoor() {}

  /** Reads the XML form. */
  public static Design xml(byte[] xml) {
    return DesignReader.read(
        XmlTree.read(NOWHERE, new ByteArrayInputStream(xml), name -> name), Map.of());
  }

  /** Reads the JSON form. */
  public static Design json(byte[] tree, byte[] meta) {
    return DesignReader.read(
        JsonTree.read(
            NOWHERE,
            new InputStreamReader(new ByteArrayInputStream(tree), StandardCharsets.UTF_8),
            new String(meta, StandardCharsets.UTF_8),
            name -> name),
        Map.of());
  }
}
