package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Test;

/** What the parameters of a design look like. */
interface ParameterRules extends Reading {
  @Test
  default void parametersComeInTheOrderOfTheSource() {
    List<Parameter> parameters = read("dial").parameters();

    assertEquals(
        List.of(
            "Teeth",
            "Offset",
            "Trim",
            "Epoch",
            "Far",
            "Label",
            "Motto",
            "Empty",
            "Magic",
            "Ratio",
            "Distance",
            "Lit",
            "Mask"),
        parameters.stream().filter(it -> !it.local()).map(Parameter::name).toList());
    assertEquals(
        List.of(
            "Twice", "Up", "Down", "Grid", "Filled", "Marks", "Joined", "Start", "Part", "Deep"),
        parameters.stream().filter(Parameter::local).map(Parameter::name).toList());
  }

  @Test
  default void numbersAreDecimalText() {
    assertEquals("48", parameter("dial", "Teeth"));
    assertEquals("96", parameter("dial", "Twice"));
    assertEquals("1", parameter("dial", "Lit"));
  }

  @Test
  default void negativeNumbersKeepTheirSign() {
    assertEquals("-5", parameter("dial", "Offset"));
    assertEquals("-3", parameter("dial", "Trim"));
    assertEquals("-9000000000", parameter("dial", "Far"));
    assertEquals("-5", parameter("dial", "Deep"));
  }

  /** 2^99 + 1. */
  @Test
  default void numbersOfAnyWidthAreExact() {
    assertEquals("633825300114114700748351602689", parameter("dial", "Epoch"));
  }

  @Test
  default void realsAreTheirShortestDecimalText() {
    assertEquals("0.1", parameter("dial", "Ratio"));
    assertEquals("602000000000000000000000", parameter("dial", "Distance"));
  }

  @Test
  default void stringsAreTheTextItself() {
    assertEquals("noon", parameter("dial", "Label"));
    assertEquals("", parameter("dial", "Empty"));
    assertEquals("sun moon", parameter("dial", "Joined"));
  }

  @Test
  default void escapesInStringsAreResolved() {
    assertEquals("say \"tick\"\\ \ttock", parameter("dial", "Motto"));
  }

  @Test
  default void aNumberWhoseBytesAreLettersIsStillANumber() {
    assertEquals("1094861636", parameter("dial", "Magic"));
  }

  @Test
  default void undefinedBitsAreShownInBinary() {
    assertEquals("8'b1x0z1010", parameter("dial", "Mask"));
  }

  @Test
  default void arraysListTheirLeftmostElementFirst() {
    assertEquals("'{1, 2, 3}", parameter("dial", "Up"));
    assertEquals("'{1, 2, 3}", parameter("dial", "Down"));
    assertEquals("'{'{1, 2}, '{3, 4}}", parameter("dial", "Grid"));
    assertEquals("'{7, 5, 7, 7}", parameter("dial", "Filled"));
    assertEquals("'{\"I\", \"II\"}", parameter("dial", "Marks"));
  }

  @Test
  default void structsAndEnumsAreTheNumberTheirBitsMake() {
    assertEquals("63", parameter("dial", "Start"));
    assertEquals("1", parameter("dial", "Part"));
  }

  @Test
  default void aParameterOfAnOlderModuleIsReadToo() {
    assertEquals("4", parameter("plate", "DEPTH"));
    assertEquals("3", parameter("plate", "LAST"));
  }

  @Test
  default void eachParameterTellsWhereItIsDeclared() {
    assertEquals("dial.sv:3", Reading.line(read("dial").parameters().get(0).location()));
  }
}
