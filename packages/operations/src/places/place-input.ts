/** A place as a request gives it. */
export interface PlaceInput {
  readonly name?: string | undefined;
  /** WGS 84 [deg]. */
  readonly latitude: number;
  readonly longitude: number;
  /** Ground above mean sea level [m]. */
  readonly elevationM?: number | undefined;
  /** Eye or lens above the ground [m]. */
  readonly eyeHeightM?: number | undefined;
  /** IANA name. */
  readonly timeZone?: string | undefined;
}
