package dev.plumbline.cli;

import dev.plumbline.watch.Watching;
import java.io.File;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code plumbline watch}: tests that run again as files are saved. */
@Command(
    name = "watch",
    description = "Runs JUnit test classes, and after each save those that the change reaches.",
    footer = {
      "",
      "RTL is built from the files that the tests name, includes among them; tests and models in",
      "Java are taken up as your build compiles them. A line is printed for each test, and the",
      "whole text of the first that is red. Evidence stands in reports/watch. Ctrl-C ends it."
    })
final class WatchCommand implements Callable<Integer> {
  @Option(
      names = "--classes",
      paramLabel = "PATH",
      defaultValue = "target/test-classes" + ":" + "target/classes",
      description =
          "Where compiled tests stand and what they use beside Plumbline and JUnit: folders and"
              + " jars, with colons between them. ${DEFAULT-VALUE} unless set, as far as they are"
              + " there.")
  private String classes = "";

  @Parameters(
      paramLabel = "TEST",
      arity = "0..*",
      description = "Test classes, with or without their packages; all unless some are named.")
  private List<String> tests = new ArrayList<>();

  @Override
  public Integer call() throws InterruptedException {
    // Rounds come one a save: of their evidence the newest is enough.
    unlessSet("plumbline.keep.runs", "1");
    // They would be said again after each save.
    unlessSet("plumbline.warnings", "none");
    // A save is answered by a run; and of code that is loaded anew no key is made.
    System.clearProperty("plumbline.passed");
    new Watching(places(), tests, System.out).run();
    return 0;
  }

  private static void unlessSet(String property, String value) {
    if (System.getProperty(property, "").isEmpty()) {
      System.setProperty(property, value);
    }
  }

  private List<Path> places() {
    List<Path> places = new ArrayList<>();
    for (String place : classes.split(File.pathSeparator, -1)) {
      // A module may have tests alone.
      if (!place.isEmpty() && !(place.equals("target/classes") && !new File(place).exists())) {
        places.add(Path.of(place));
      }
    }
    return places;
  }
}
