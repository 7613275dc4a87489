package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.StateElement.Kind;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Which registers, memories and instances a design has. */
interface StateRules extends Reading {
  private List<String> paths(String design, Kind kind) {
    return read(design).state().stream()
        .filter(element -> element.kind() == kind)
        .map(StateElement::path)
        .sorted()
        .toList();
  }

  @Test
  default void everythingAssignedUnderAnEdgeIsARegisterAndScratchVariablesAreNot() {
    assertEquals(
        List.of(
            "archive.copied",
            "archive.count",
            "archive.entry",
            "archive.genblk2.shelf.q",
            "archive.halves",
            "archive.lane[0].stage",
            "archive.lane[1].deep.shelf.q",
            "archive.lane[1].stage",
            "archive.logged",
            "archive.pair[0].q",
            "archive.pair[1].q",
            "archive.spent",
            "archive.steps",
            "archive.total"),
        paths("archive", Kind.REGISTER));
  }

  @Test
  default void arraysThatKeepValuesAreMemoriesAndArraysOfWiresOrConstantsAreNot() {
    assertEquals(
        List.of(
            "archive.genblk2.shelf.slot",
            "archive.lane[1].deep.shelf.slot",
            "archive.names",
            "archive.pair[0].slot",
            "archive.pair[1].slot",
            "archive.sky",
            "archive.table_of_sines"),
        paths("archive", Kind.MEMORY));
  }

  @Test
  default void aRegisterHasItsWidthAndSign() {
    assertEquals(4, state("archive", "count").width());
    assertEquals(1, state("archive", "count").depth());
    assertEquals(16, state("archive", "halves").width());
    assertEquals(4, state("archive", "entry").width());
    assertEquals(32, state("archive", "steps").width());
    assertTrue(state("archive", "steps").signed());
    assertFalse(state("archive", "count").signed());
  }

  @Test
  default void aMemoryHasTheWidthOfAWordAndTheDepthOfAllItsDimensions() {
    assertEquals(16, state("archive", "sky").width());
    assertEquals(12, state("archive", "sky").depth());
    assertEquals(8, state("archive", "names").width());
    assertEquals(256, state("archive", "names").depth());
    assertEquals(10, state("archive", "table_of_sines").width());
    assertEquals(16, state("archive", "table_of_sines").depth());
  }

  @Test
  default void parametersOfAnInstanceShapeItsMemory() {
    assertEquals(8, state("archive", "lane[1].deep.shelf.slot").depth());
    assertEquals(4, state("archive", "genblk2.shelf.slot").depth());
    assertTrue(state("archive", "genblk2.shelf.slot").signed());
  }

  @Test
  default void aRegisterInAnInterfaceIsFoundThoughAModuleElsewhereAssignsIt() {
    assertEquals(
        List.of(
            "lantern.post[0].single.level",
            "lantern.post[1].single.level",
            "lantern.row[4].level",
            "lantern.row[5].level"),
        paths("lantern", Kind.REGISTER));
    assertEquals(6, state("lantern", "row[4].level").width());
    assertEquals(4, state("lantern", "post[1].single.level").width());
  }

  @Test
  default void latchesAreNotListed() {
    assertEquals(List.of(), read("lens").state());
  }

  @Test
  default void eachElementTellsWhereItIsDeclared() {
    assertEquals("archive.sv:9", Reading.line(state("archive", "pair[1].slot").location()));
  }

  /** IEEE 1800-2017, 27.6: an unnamed generate block is numbered by its place among its likes. */
  @Test
  default void instancesAreNamedThroughGenerateScopesAndArrays() {
    List<Instance> instances = read("archive").instances();

    assertEquals(
        List.of(
            "archive.genblk2.shelf",
            "archive.lane[1].deep.shelf",
            "archive.pair[0]",
            "archive.pair[1]"),
        instances.stream().map(Instance::path).sorted().toList());
    assertTrue(instances.stream().allMatch(instance -> instance.module().equals("shelf")));
  }

  @Test
  default void interfacesAreInstancesTooAndParentsComeBeforeChildren() {
    assertEquals(
        List.of("shutter.light beam", "shutter.ring ring", "shutter.ring.blade blade"),
        read("shutter").instances().stream().map(it -> it.path() + " " + it.module()).toList());
  }

  @Test
  default void eachInstanceTellsWhereItIsMade() {
    Instance blade = read("shutter").instances().get(2);

    assertEquals("shutter.sv:23", Reading.line(blade.location()));
  }
}
