import type { Exchange } from "./middleware/exchange";
import type { Services } from "./services";

/** The services as one exchange has them: the same, with the signal that tells when nobody waits for its answer. */
export function servicesFor(services: Services): (exchange: Exchange) => Services {
  class ForExchange {
    readonly #exchange: Exchange;

    constructor(exchange: Exchange) {
      this.#exchange = exchange;
    }

    /** Made when first asked for, since few ever do. */
    get signal(): AbortSignal {
      return this.#exchange.signal;
    }
  }
  Object.setPrototypeOf(ForExchange.prototype, services);
  return (exchange) => new ForExchange(exchange) as unknown as Services;
}
