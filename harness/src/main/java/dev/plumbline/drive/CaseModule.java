package dev.plumbline.drive;

import dev.plumbline.contract.ContractException;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Parameter;
import dev.plumbline.verdict.KeptCase;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The module and the parameters that a kept case is of. */
public final class CaseModule {
  private CaseModule() {}

  /** The parameters of a design's top module, as they are overridden. */
  public static Map<String, String> parameters(Design design) {
    Map<String, String> parameters = new LinkedHashMap<>();
    for (Parameter parameter : design.parameters()) {
      if (!parameter.local()) {
        parameters.put(parameter.name(), parameter.value());
      }
    }
    return parameters;
  }

  /**
   * Refuses a case of another design. A parameter that the case does not name is new, and may be
   * anything.
   *
   * @throws ContractException when the module is another, or a parameter of the case is not there
   *     or has another value
   */
  public static void require(KeptCase kept, Design design) {
    if (!kept.module().equals(design.top())) {
      throw refused(
          kept,
          "it is of module \"" + kept.module() + "\"",
          "module \"" + design.top() + "\", which is under this bench");
    }
    Map<String, String> now = parameters(design);
    List<String> others = new ArrayList<>();
    List<String> wanted = new ArrayList<>();
    kept.parameters()
        .forEach(
            (name, value) -> {
              if (!value.equals(now.get(name))) {
                others.add(name + "=" + value);
                wanted.add(
                    now.containsKey(name) ? name + "=" + now.get(name) : "no parameter " + name);
              }
            });
    if (!others.isEmpty()) {
      throw refused(
          kept,
          "it is of parameters " + String.join(", ", others),
          String.join(", ", wanted) + ", as module " + design.top() + " has under this bench");
    }
  }

  /** A case that cannot be run here. */
  public static ContractException refused(KeptCase kept, String what, String allowed) {
    return new ContractException(
        "Kept case of \""
            + kept.bench()
            + "\": "
            + what
            + "; allowed is "
            + allowed
            + ". Give it to the bench that found it, or take it away where that has changed on"
            + " purpose.");
  }
}
