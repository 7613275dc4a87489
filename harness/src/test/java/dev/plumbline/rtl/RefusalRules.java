package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;

/** What is reported of ports that cannot be driven. */
interface RefusalRules extends Reading {
  @Test
  default void everyPortThatCannotBeDrivenIsNamedAtOnceWithWhatToDo() {
    RtlException refused = assertThrows(RtlException.class, () -> read("undrivable"));

    String real =
        "is a real number; use fixed point, or pass its 64 bits through a logic [63:0] port with"
            + " $realtobits and $bitstoreal";
    String array = "is a dynamic array; use an unpacked array of fixed size";
    String struct = "is an unpacked struct; declare it \"struct packed\"";
    assertEquals(
        List.of(
            "port \"angle\" " + real,
            "port \"title\" is a string; use a packed vector of eight bits a character",
            "port \"label\" " + struct,
            "port \"labels\" " + struct,
            "port \"loose\" " + struct,
            "port \"either\" is an unpacked union; declare it \"union packed\"",
            "port \"visits\" " + array,
            "port \"queue\" " + array,
            "port \"by_name\" " + array,
            "port \"bell\" is an event; use a one-bit signal that toggles",
            "port \"handle\" is a chandle, which has no meaning outside C; take it out of the port"
                + " list",
            "port \"curator\" is a class handle; pass its values as plain or packed struct ports",
            "port \"angles\" " + real),
        refused.messages().stream().map(RtlException.Message::text).toList());
    assertEquals("undrivable.sv:12", Reading.line(refused.messages().get(0).location()));
    assertTrue(
        refused.getMessage().startsWith("Module \"undrivable\" has ports that cannot be driven; "));
  }
}
