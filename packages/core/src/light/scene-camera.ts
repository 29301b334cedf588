import type { CameraView } from "../sky/luminance";

/** A camera that may not yet be told where to point. */
export type SceneCamera = Omit<CameraView, "azimuthDeg"> & { readonly azimuthDeg?: number | undefined };

/** The camera's view where it points somewhere. */
export function pointedCamera(camera: SceneCamera | undefined): CameraView | undefined {
  const azimuthDeg = camera?.azimuthDeg;
  return azimuthDeg === undefined ? undefined : Object.assign({}, camera, { azimuthDeg });
}
