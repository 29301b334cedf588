import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { setTimeout as sleep } from "node:timers/promises";
import type { Forecast, ForecastsInput } from "@fieldstop/sdk";
import { forecastOfTheStrand } from "./forecast";

/**
 * Speaks `POST /v1/forecasts` with the words of one real forecast, so that a test of the runner costs no calculation.
 * `cutShort` says after how many lines a stream breaks off, `paceMs` how long each line takes.
 */
export class StandInService {
  requests = 0;
  forecasts = 0;
  readonly #server: Server;

  private constructor(
    private readonly forecast: Forecast,
    private readonly cutShort: () => number | undefined,
    private readonly paceMs: number,
  ) {
    this.#server = createServer(async (request, response) => {
      this.requests++;
      let text = "";
      for await (const chunk of request) text += chunk;
      const { places } = JSON.parse(text) as ForecastsInput;
      const cutAfter = this.cutShort();
      response.writeHead(200, { "Content-Type": "application/x-ndjson" });
      for (const [index, wanted] of places.entries()) {
        if (index === cutAfter) {
          response.destroy();
          return;
        }
        if (this.paceMs > 0) await sleep(this.paceMs);
        this.forecasts++;
        response.write(`${JSON.stringify({ index, id: wanted.id, forecast: this.#of(wanted) })}\n`);
      }
      response.end(`${JSON.stringify({ done: true, served: places.length, failed: 0 })}\n`);
    });
  }

  static async start(cutShort: () => number | undefined = () => undefined, paceMs = 0): Promise<StandInService> {
    const service = new StandInService(await forecastOfTheStrand(), cutShort, paceMs);
    await new Promise<void>((resolve) => service.#server.listen(0, "127.0.0.1", resolve));
    return service;
  }

  get baseUrl(): string {
    return `http://127.0.0.1:${(this.#server.address() as AddressInfo).port}`;
  }

  async stop(): Promise<void> {
    this.#server.closeAllConnections();
    await new Promise((resolve) => this.#server.close(resolve));
  }

  #of({ place, date = "2027-03-20" }: ForecastsInput["places"][number]): Forecast {
    // whenever the test runs, the light that it tells of lies ahead
    const stayUntil = new Date(Date.now() + 12 * 3_600_000).toISOString();
    return { ...this.forecast, id: `${place.latitude},${place.longitude}/${date}`, date, stayUntil };
  }
}
