// Compiled as module and as CommonJS would resolve it: every entry, a call of each kind, and types that hold.
import {
  createFieldstop,
  createFieldstopClient,
  type FieldstopProblem,
  getSunPosition,
  isProblem,
} from "@fieldstop/sdk";
import { createOfflineFieldstop, solveExposure } from "@fieldstop/sdk/offline";

export async function use(baseUrl: string): Promise<Record<string, string | number>> {
  const place = { latitude: 56.6, longitude: -9.4, timeZone: "Etc/UTC" };
  const instant = "2027-03-20T18:00:00Z";
  const online = createFieldstop({ baseUrl });
  const client = createFieldstopClient({ baseUrl });
  const sun = await getSunPosition({ client, query: { ...place, instant } });
  const same = await createOfflineFieldstop().sky.getSunPosition({ ...place, instant });
  const { shutter } = await solveExposure({ ev100: 12, aperture: 11, iso: 100 });
  // @ts-expect-error a misspelt field is refused by the compiler
  void solveExposure({ ev100: 12, apertur: 11, iso: 100 }).catch(() => undefined);
  let refused: FieldstopProblem | undefined;
  try {
    await online.sky.getSunPosition({ latitude: 91, longitude: 0 });
  } catch (error) {
    if (isProblem(error)) refused = error;
  }
  return {
    shutter: shutter.nominal,
    alike: String(JSON.stringify(sun) === JSON.stringify(same)),
    refused: refused?.errors[0]?.pointer ?? "nothing",
  };
}
