package dev.plumbline.drive;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Flow;
import dev.plumbline.contract.Reset;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * That cases wait until the DUT takes them.
 *
 * @param valid the input that says a case is on offer
 * @param ready the output that says it can be taken, or that the DUT is free or busy
 * @param byRow inputs that stay with their row; all others move on with the cases
 */
public record Handshake(String valid, String ready, List<String> byRow) {
  public Handshake {
    byRow = List.copyOf(byRow);
  }

  public static Optional<Handshake> of(Contract contract) {
    Flow flow = contract.flow();
    return !flow.waits()
        ? Optional.empty()
        : Optional.of(
            new Handshake(
                PortRef.plain(flow.inValid()),
                PortRef.plain(flow.gate()),
                Stream.concat(
                        Stream.of(contract.reset().port(), PortRef.plain(flow.outReady()))
                            .filter(port -> port != null),
                        contract.reset().further().stream().map(Reset.Line::port))
                    .toList()));
  }
}
