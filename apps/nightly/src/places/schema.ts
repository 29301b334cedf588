import { z } from "zod";
import { isPrintable } from "../text/printable";

// Names are what keys, files and logs are made of: no slash, no blank, nothing to escape.
const name = z
  .string()
  .regex(/^[a-z0-9][a-z0-9._-]{0,63}$/i, "allowed: 1 to 64 letters, digits, dots, dashes and underscores");

const environmentName = z
  .string()
  .regex(/^[A-Z_][A-Z0-9_]*$/, "allowed: the name of an environment variable, such as ARDVANE_WEBHOOK_SECRET");

/** What is shown to people. */
const shown = (longest: number) =>
  z.string().min(1).max(longest).refine(isPrintable, "allowed: no control characters, line ends or marks of direction");

const httpUrl = z.url({ protocol: /^https?$/, error: "allowed: an http or https URL" });

/** Where a request goes: written in the file, or, where the URL is itself a secret, held by an environment variable. */
const target = {
  url: httpUrl.optional(),
  urlEnv: environmentName.optional(),
  timeoutSeconds: z.number().min(1).max(120).default(15),
};

const WebhookChannel = z
  .strictObject({
    kind: z.literal("webhook"),
    ...target,
    /** Names of the variables that hold `whsec_…` secrets: the current one first, then one that is being retired. */
    secretEnv: z.union([environmentName, z.array(environmentName).min(1).max(4)]),
    detail: z.enum(["summary", "full"]).default("summary"),
  })
  .refine(hasOneTarget, oneTarget());

const ChatChannel = z
  .strictObject({
    kind: z.literal("chat"),
    ...target,
    /** What `text` holds; `plain` sends the Markdown beside it. */
    text: z.enum(["plain", "markdown"]).default("plain"),
  })
  .refine(hasOneTarget, oneTarget());

const feedFile = {
  file: z.string().min(1),
  title: shown(200).default("The night's light"),
  keepNights: z.int().min(1).max(400).default(30),
};

const AtomChannel = z.strictObject({
  kind: z.literal("atom"),
  ...feedFile,
  /** Where the feed will be found; readers resolve against it. */
  url: httpUrl.optional(),
  author: shown(200).default("Fieldstop"),
});

const CalendarChannel = z.strictObject({ kind: z.literal("ics"), ...feedFile });

const ConsoleChannel = z.strictObject({ kind: z.literal("console") });

export const ChannelSettings = z.discriminatedUnion("kind", [
  WebhookChannel,
  ChatChannel,
  AtomChannel,
  CalendarChannel,
  ConsoleChannel,
]);
export type ChannelSettings = z.output<typeof ChannelSettings>;

const Sensor = z.union([
  z.string().min(1),
  z.strictObject({ widthMm: z.number(), heightMm: z.number(), widthPx: z.number().optional() }),
]);

// The service judges ranges and names its allowed values; here only the names of the fields are held.
const Camera = z.strictObject({
  sensor: Sensor.optional(),
  focalLengthMm: z.number().optional(),
  aperture: z.number().optional(),
  iso: z.number().optional(),
  azimuthDeg: z.number().optional(),
  pitchDeg: z.number().optional(),
  orientation: z.enum(["landscape", "portrait"]).optional(),
  headroomStops: z.number().optional(),
  footroomStops: z.number().optional(),
  dynamicRangeStops: z.number().optional(),
  dynamicRangeIso: z.number().optional(),
});

const strength = {
  stops: z.number().optional(),
  density: z.number().optional(),
  factor: z.number().optional(),
  transmittancePercent: z.number().optional(),
};

const Filter = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("nd"), ...strength }),
  z.strictObject({
    kind: z.literal("graduated"),
    ...strength,
    transition: z.enum(["hard", "medium", "soft", "reverse"]),
  }),
  z.strictObject({ kind: z.literal("polarizer"), lossStops: z.number().optional() }),
]);

const Kit = z.strictObject({ camera: Camera.optional(), filters: z.array(Filter).max(12).optional() });

const Subject = z.strictObject({
  latitude: z.number().min(-90).max(90).optional(),
  longitude: z.number().min(-180).max(180).optional(),
  facingAzimuthDeg: z.number().min(0).max(360).optional(),
  slopeDeg: z.number().min(0).max(90).optional(),
});

const timeZone = z.string().refine(isTimeZone, "allowed: an IANA time zone, such as Europe/London");

const postAt = z
  .string()
  .regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'allowed: a local hour in quotes, from "00:00" to "23:59"');

/** What a place may say, and `defaults` may say for all of them. */
const perPlace = {
  timeZone: timeZone.optional(),
  postAt: postAt.optional(),
  session: z.enum(["evening", "morning"]).optional(),
  /** Days from the posting to the night; default 0 for an evening, 1 for a morning. */
  leadDays: z.int().min(0).max(7).optional(),
  kit: name.optional(),
  channels: z.array(name).min(1).max(20).optional(),
};

const Place = z.strictObject({
  id: name,
  name: shown(200).optional(),
  latitude: z.number().min(-90).max(90),
  longitude: z.number().min(-180).max(180),
  elevationM: z.number().min(-500).max(9000).optional(),
  eyeHeightM: z.number().min(0.5).max(1000).optional(),
  ...perPlace,
  camera: Camera.optional(),
  filters: z.array(Filter).max(12).optional(),
  subject: Subject.optional(),
  tideStation: z.string().min(1).max(100).optional(),
});

/** How failed deliveries are tried again: ten times within three quarters of an hour, where the file does not say. */
const Retry = z.strictObject({
  attempts: z.int().min(1).max(100).default(10),
  firstSeconds: z.number().min(0.1).max(3600).default(5),
  longestSeconds: z.number().min(0.1).max(86_400).default(900),
});

/** The places file as it is written. */
export const PlacesFile = z.strictObject({
  channels: z.record(name, ChannelSettings),
  kits: z.record(name, Kit).default({}),
  defaults: z.strictObject(perPlace).default({}),
  retry: Retry.default({ attempts: 10, firstSeconds: 5, longestSeconds: 900 }),
  places: z.array(Place).min(1).max(100_000),
});
export type PlacesFile = z.output<typeof PlacesFile>;

function hasOneTarget(channel: { readonly url?: string | undefined; readonly urlEnv?: string | undefined }): boolean {
  return (channel.url === undefined) !== (channel.urlEnv === undefined);
}

function oneTarget() {
  return { error: "allowed: exactly one of url and urlEnv" };
}

function isTimeZone(given: string): boolean {
  try {
    new Intl.DateTimeFormat("en", { timeZone: given });
    return true;
  } catch {
    return false;
  }
}
