package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import java.util.List;
import org.junit.jupiter.api.Test;

class BudgetTest {
  private static final Format WORKING = Format.signed(20, 20);

  private static Budget budget() {
    return Budget.of("cone", WORKING).and("height", 3).and("slope", 1);
  }

  @Test
  void aBudgetIsNeverChangedAndGivesWhatWasDeclared() {
    Budget before = budget();
    Budget after = before.with("slope", 7);
    assertEquals(1, before.lsbs("slope"));
    assertEquals(7, after.lsbs("slope"));
    assertEquals(3, after.lsbs("height"));
    assertEquals(List.of("height", "slope"), List.copyOf(after.quantities()));
    assertEquals(WORKING, after.working());
    assertEquals("cone in LSB of s20.20: {height=3, slope=7}", after.toString());
    assertThrows(UnsupportedOperationException.class, () -> after.quantities().clear());
  }

  @Test
  void whatABlockDoesNotHaveIsRefusedWithWhatItHas() {
    assertRefused(
        "Budget of \"root\" for a cone: its quantities are [height, slope]; name one of these",
        () -> budget().with("root", 1));
    assertRefused(
        "Budget of -1 LSB for \"slope\" of a cone: it has to be 0 or more",
        () -> budget().with("slope", -1));
    assertRefused("Budget of a cone for a sphere", () -> budget().requireBlock("sphere"));
  }

  private static void assertRefused(String part, Runnable action) {
    String message = assertThrows(IllegalArgumentException.class, action::run).getMessage();
    assertTrue(message.contains(part), message);
  }
}
