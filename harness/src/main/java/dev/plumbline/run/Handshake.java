package dev.plumbline.run;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Flow;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * That cases wait until the DUT takes them.
 *
 * @param valid the input that says a case is on offer
 * @param ready the output that says it can be taken
 * @param byRow inputs that stay with their row; all others move on with the cases
 */
public record Handshake(String valid, String ready, List<String> byRow) {
  public Handshake {
    byRow = List.copyOf(byRow);
  }

  static Optional<Handshake> of(Contract contract) {
    Flow flow = contract.flow();
    return flow.inReady() == null
        ? Optional.empty()
        : Optional.of(
            new Handshake(
                flow.inValid(),
                flow.inReady(),
                Stream.of(contract.reset().port(), flow.outReady())
                    .filter(port -> port != null)
                    .toList()));
  }
}
