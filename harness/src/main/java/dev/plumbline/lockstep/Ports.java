package dev.plumbline.lockstep;

import dev.plumbline.contract.ContractException;
import dev.plumbline.cosim.Batch;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/** The ports of a design that take part, checked for width, and their columns in a batch. */
final class Ports {
  private static final String RAY = "ray_";

  /** Ports that drive and pace, in the order of reports. */
  static final List<String> CONTROLS =
      List.of("rst", "ray_valid", "ray_ready", "retire_valid", "result_valid", "result_ready");

  private static final List<String> LOAD = List.of("load_valid", "load_address", "load_word");

  private static final List<String> NEEDED =
      List.of(
          "load_valid",
          "load_address",
          "load_word",
          "ray_valid",
          "ray_ready",
          "ray_origin_x",
          "ray_origin_y",
          "ray_origin_z",
          "ray_direction_x",
          "ray_direction_y",
          "ray_direction_z",
          "result_valid");

  /** Every standard name. */
  static final List<String> ROLES =
      Stream.of(
              CONTROLS.stream(),
              LOAD.stream(),
              Rays.names().stream().map(RAY::concat),
              ExecutorTerms.NAMES.stream())
          .flatMap(names -> names)
          .toList();

  private final Executor executor;
  private final Design design;

  /** By standard name: the name in the RTL. */
  private final Map<String, String> names = new LinkedHashMap<>();

  Ports(Executor executor, Design design) {
    this.executor = executor;
    this.design = design;
    for (String role : ROLES) {
      find(role).ifPresent(port -> names.put(role, port.name()));
    }
    if (executor.limits().length() > 1L << port("load_address").width()) {
      throw new ContractException(
          "Port "
              + names.get("load_address")
              + " has "
              + port("load_address").width()
              + " bits; programs of up to "
              + executor.limits().length()
              + " words are promised. Say less in the executor's limits.");
    }
  }

  private Optional<Port> find(String role) {
    String name = executor.port(role);
    Optional<Port> port = name == null ? Optional.empty() : design.findPort(name);
    if (port.isEmpty() && (NEEDED.contains(role) || executor.isNamed(role))) {
      throw new ContractException(
          "Module "
              + design.top()
              + " has no port \""
              + name
              + "\" for "
              + role
              + "; its ports are "
              + design.ports().stream().map(Port::name).toList()
              + ". Name one with Executor.port.");
    }
    int wanted = width(role);
    if (port.isPresent() && wanted > 0 && port.get().width() != wanted) {
      throw new ContractException(
          "Port "
              + name
              + " of module "
              + design.top()
              + " has "
              + port.get().width()
              + " bits; for "
              + role
              + " "
              + wanted
              + " are promised. Correct the executor's formats, spans or layout, or leave the port"
              + " out with Executor.without.");
    }
    return port;
  }

  /** Bits of an input; 0 where any will do, as for outputs, which are checked where they arise. */
  private int width(String role) {
    SceneFormats formats = executor.formats();
    if (role.equals("load_word")) {
      return executor.layout().width();
    }
    if (!role.startsWith(RAY) || CONTROLS.contains(role)) {
      return CONTROLS.contains(role) || role.equals("load_valid") ? 1 : 0;
    }
    Format format = rayFormat(role.substring(RAY.length()), formats);
    return format.width();
  }

  static Format rayFormat(String column, SceneFormats formats) {
    if (column.startsWith("direction")) {
      return formats.direction();
    }
    if (column.startsWith("inverse")) {
      return formats.inverse();
    }
    return column.startsWith("parallel") || column.equals("any_hit")
        ? Format.bit()
        : formats.word();
  }

  private Port port(String role) {
    return design.findPort(names.get(role)).orElseThrow();
  }

  boolean has(String role) {
    return names.containsKey(role);
  }

  /** Whether rays may be such that end at any surface before a limit. */
  boolean takesAnyHit() {
    return has("ray_any_hit") && has("ray_limit");
  }

  /** The name in the RTL. */
  String name(String role) {
    return names.get(role);
  }

  /** ExecutorColumns of a ray that the design takes. */
  List<String> rayColumns() {
    return Rays.names().stream().filter(column -> has(RAY + column)).toList();
  }

  String rayPort(String column) {
    return names.get(RAY + column);
  }

  /** The outputs checked with each operation; none without a retirement port. */
  List<Output> retired() {
    return has("retire_valid") ? outputs(ExecutorTerms.retired(executor)) : List.of();
  }

  /** The outputs checked with each result. */
  List<Output> results() {
    return outputs(ExecutorTerms.results(executor));
  }

  private List<Output> outputs(List<Output.Promise> promises) {
    List<Output> outputs = new ArrayList<>();
    for (Output.Promise promise : promises) {
      if (has(promise.role())) {
        Port port = port(promise.role());
        Output output = new Output(promise, port.name(), port.signed());
        boolean isCount = promise.elements() == 1 && !promise.format().signed();
        if (isCount ? port.width() > Long.SIZE : port.width() != output.width()) {
          throw new ContractException(
              "Port "
                  + port.name()
                  + " has "
                  + port.width()
                  + " bits; for "
                  + promise.role()
                  + " "
                  + output.width()
                  + " are promised. Correct the executor's formats, spans or limits, or leave the"
                  + " port out with Executor.without.");
        }
        outputs.add(output);
      }
    }
    return outputs;
  }

  /** The column of a standard name in a batch; null where the design has none. */
  long[] column(Batch batch, String role) {
    return has(role) ? batch.column(names.get(role)) : null;
  }

  long[][] words(Batch batch, String port) {
    int words = design.findPort(port).orElseThrow().words();
    long[][] columns = new long[words][];
    for (int word = 0; word < words; word++) {
      columns[word] = batch.column(port, word);
    }
    return columns;
  }

  /** Makes rays wait until they are accepted; all else is by row. */
  void handshake(Batch batch) {
    String[] byRow =
        Stream.concat(Stream.of("rst", "result_ready"), LOAD.stream())
            .filter(this::has)
            .map(names::get)
            .toArray(String[]::new);
    batch.handshake(name("ray_valid"), name("ray_ready"), byRow);
  }
}
