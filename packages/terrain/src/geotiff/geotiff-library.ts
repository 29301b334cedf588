import threads from "node:worker_threads";

type Library = typeof import("geotiff");

let library: Promise<Library> | undefined;

async function loaded(): Promise<Library> {
  const geotiff = await import("geotiff");
  const { boundDecoders } = await import("./bounded-decoders");
  boundDecoders(geotiff);
  return geotiff;
}

/** The decoder of GeoTIFFs, loaded by the first who needs it. */
export function geoTiffLibrary(): Promise<Library> {
  // on its way it loads web-worker 1.5, which in any thread looks for its own name in data that other threads' makers need not give
  if (!threads.isMainThread) Object.assign(threads, { workerData: threads.workerData ?? {} });
  library ??= loaded();
  return library;
}
