package dev.plumbline.lockstep;

import dev.plumbline.contract.ContractException;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Handshake;
import dev.plumbline.drive.HeldPorts;
import dev.plumbline.drive.PortFinder;
import dev.plumbline.drive.PortRef;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/** The ports of a design that take part, checked for width, and their columns in an engine. */
final class Ports {
  static final String RAY = "ray_";

  static final String ABORT = "ray_abort";
  private static final String TAG = "ray_tag";

  /** Ports that drive and pace, in the order of reports. */
  static final List<String> CONTROLS =
      List.of(
          "rst", ABORT, "ray_valid", "ray_ready", "retire_valid", "result_valid", "result_ready");

  private static final List<String> LOAD = List.of("load_valid", "load_address", "load_word");

  private static final List<String> SURFACE = List.of("surface_read", "surface_address");

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
              SURFACE.stream(),
              Rays.names().stream().map(RAY::concat),
              ExecutorTerms.NAMES.stream())
          .flatMap(names -> names)
          .toList();

  private final Executor executor;
  private final PortFinder finder;
  private final HeldPorts held;
  private final Map<String, PortRef> ports = new LinkedHashMap<>(); // by standard name

  Ports(Executor executor, Design design) {
    this.executor = executor;
    this.finder = new PortFinder(design, "with Executor.port");
    for (String role : ROLES) {
      find(role).ifPresent(port -> ports.put(role, port));
    }
    this.held = new HeldPorts(finder, executor.held());
    requireEveryInput();
    PortRef address = ports.get("load_address");
    if (executor.limits().length() > 1L << address.width()) {
      throw new ContractException(
          "Port "
              + address.text()
              + " has "
              + address.width()
              + " bits; programs of up to "
              + executor.limits().length()
              + " words are promised. Say less in the executor's limits.");
    }
  }

  private void requireEveryInput() {
    Set<String> driven = new HashSet<>();
    ports.values().forEach(port -> driven.add(port.port().name()));
    held.ports().forEach(port -> driven.add(port.port().name()));
    ROLES.stream().filter(executor::isWithout).forEach(driven::add);
    finder.requireEveryInput(
        driven, "name it with Executor.port, or hold it at a value with Executor.hold.");
  }

  private Optional<PortRef> find(String role) {
    String name = executor.port(role);
    boolean needed = NEEDED.contains(role) || executor.isNamed(role);
    if (!needed && (name == null || finder.design().findPort(name).isEmpty())) {
      return Optional.empty();
    }
    if (name == null) {
      throw new ContractException(
          "An executor cannot be without " + role + "; name its port with Executor.port.");
    }
    PortRef port = finder.find(name, " for " + role);
    finder.requireDirection(
        port, isOutput(role) ? Port.Direction.OUTPUT : Port.Direction.INPUT, role);
    if (!port.isWhole()) {
      throw new ContractException(
          "Port "
              + port.text()
              + " ("
              + port.port().location()
              + ") cannot carry "
              + role
              + " in some of its bits; a whole port or array element is needed. Name one with"
              + " Executor.port.");
    }
    if (isControl(role)) {
      finder.requireBit(port, role);
    } else {
      requireWidth(port, role, width(role));
    }
    return Optional.of(port);
  }

  private static boolean isOutput(String role) {
    return role.equals("ray_ready")
        || role.equals(SurfaceReads.WORD)
        || role.startsWith("retire_")
        || (role.startsWith("result_") && !role.equals("result_ready"));
  }

  private static boolean isControl(String role) {
    return CONTROLS.contains(role) || role.equals("load_valid") || role.equals("surface_read");
  }

  private void requireWidth(PortRef port, String role, int wanted) {
    if (wanted > 0 && port.width() != wanted) {
      throw new ContractException(
          "Port "
              + port.text()
              + " of module "
              + finder.design().top()
              + " has "
              + port.width()
              + " bits; for "
              + role
              + " "
              + wanted
              + " are promised. Correct the executor's formats, spans, limits or layout, or leave"
              + " the port out with Executor.without.");
    }
  }

  /** Bits of an input; 0 where any will do, as for outputs, which are checked where they arise. */
  private int width(String role) {
    if (role.equals("load_word")) {
      return executor.layout().width();
    }
    return role.startsWith(RAY) && !role.equals(TAG)
        ? rayFormat(role.substring(RAY.length()), executor.formats()).width()
        : 0;
  }

  static Format rayFormat(String column, SceneFormats formats) {
    if (column.equals("tag")) {
      return Format.unsigned(Integer.SIZE, 0);
    }
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

  /** The design whose ports these are. */
  Design design() {
    return finder.design();
  }

  boolean has(String role) {
    return ports.containsKey(role);
  }

  /** Whether rays may be such that end at any surface before a limit. */
  boolean takesAnyHit() {
    return has("ray_any_hit") && has("ray_limit");
  }

  /** Whether the program can be read. */
  boolean readsSurfaces() {
    return has(SurfaceReads.WORD) && SURFACE.stream().allMatch(this::has);
  }

  /** Ones in as many bits as a ray's tag has, 32 at most; 0 without one. */
  long tagMask() {
    return has(TAG) ? (1L << Math.min(Integer.SIZE, ports.get(TAG).width())) - 1 : 0;
  }

  /** The name in the RTL. */
  String name(String role) {
    return ports.get(role).text();
  }

  /** Columns of a ray that the design takes. */
  List<String> rayColumns() {
    return Rays.names().stream().filter(column -> has(RAY + column)).toList();
  }

  String rayPort(String column) {
    return name(RAY + column);
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
      boolean isRead = !promise.role().equals(SurfaceReads.WORD) || readsSurfaces();
      if (has(promise.role()) && isRead) {
        PortRef port = ports.get(promise.role());
        Output output = new Output(promise, port.text(), port.signed());
        boolean isCount = promise.elements() == 1 && !promise.format().signed();
        if (!isCount || port.width() > Long.SIZE) {
          requireWidth(port, promise.role(), output.width());
        }
        outputs.add(output);
      }
    }
    return outputs;
  }

  /** The column of a standard name; null where the design has none. */
  long[] column(Engine engine, String role) {
    return has(role) ? engine.column(ports.get(role).column(), 0) : null;
  }

  /** The columns of a port of several words. */
  long[][] words(Engine engine, String role) {
    PortRef port = ports.get(role);
    long[][] columns = new long[port.port().words()][];
    for (int word = 0; word < columns.length; word++) {
      columns[word] = engine.column(port.column(), word);
    }
    return columns;
  }

  /** Fills the columns of held ports. */
  void hold(Engine engine) {
    held.fill(engine);
  }

  /** Rays wait until they are accepted; all else is by row. */
  Handshake handshake() {
    Stream<PortRef> byRow =
        Stream.of(List.of("rst", ABORT, "result_ready"), LOAD, SURFACE)
            .flatMap(List::stream)
            .filter(this::has)
            .map(ports::get);
    return new Handshake(
        ports.get("ray_valid").column(),
        ports.get("ray_ready").column(),
        Stream.concat(byRow, held.ports()).map(PortRef::column).toList());
  }
}
