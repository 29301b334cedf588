import type { Ledger } from "../ledger/ledger";
import { uuidOf } from "../ledger/uuid-of";
import { PlacesError, type PlacesFault } from "../places/fault";
import type { ChannelSettings } from "../places/schema";
import { atomFeed } from "./atom";
import { calendar } from "./calendar";
import type { Channel } from "./channel";
import { chatChannel } from "./chat";
import { consoleChannel } from "./console";
import { fileChannel } from "./file-channel";
import { webhookChannel } from "./webhook";

export interface ChannelContext {
  readonly file: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly ledger: Ledger;
  readonly print: (text: string) => Promise<void>;
}

/** The channels of a places file, with what they keep secret taken from the environment. @throws PlacesError where it is not there. */
export function makeChannels(
  settings: Readonly<Record<string, ChannelSettings>>,
  context: ChannelContext,
): Map<string, Channel> {
  const faults: PlacesFault[] = [];
  const channels = new Map<string, Channel>();
  for (const [name, channel] of Object.entries(settings)) {
    try {
      channels.set(name, makeChannel(name, channel, context));
    } catch (error) {
      faults.push({ path: `channels.${name}`, detail: (error as Error).message });
    }
  }
  if (faults.length > 0) throw new PlacesError(context.file, faults);
  return channels;
}

function makeChannel(name: string, settings: ChannelSettings, { env, ledger, print }: ChannelContext): Channel {
  switch (settings.kind) {
    case "webhook": {
      const secrets = [settings.secretEnv].flat().map((variable) => secretFrom(env, variable));
      return webhookChannel({ ...sending(settings, env), secrets, full: settings.detail === "full" });
    }
    case "chat":
      return chatChannel({ ...sending(settings, env), text: settings.text });
    case "atom": {
      const { title, author, url } = settings;
      return fileChannel(settings, ledger, (items) =>
        atomFeed({ title, author, url, id: url ?? `urn:uuid:${uuidOf(name)}` }, items),
      );
    }
    case "ics":
      return fileChannel(settings, ledger, (items) => calendar(settings.title, items));
    case "console":
      return consoleChannel(print);
  }
}

function sending(
  { url, urlEnv, timeoutSeconds }: Extract<ChannelSettings, { kind: "chat" | "webhook" }>,
  env: ChannelContext["env"],
): { url: string; timeoutMs: number } {
  const target = url ?? valueIn(env, urlEnv as string);
  if (!/^https?:$/.test(URL.parse(target)?.protocol ?? "")) throw new Error(`${urlEnv} holds no http or https URL`);
  return { url: target, timeoutMs: timeoutSeconds * 1000 };
}

// Standard Webhooks: base64 of 24 to 64 bytes, marked as a secret
function secretFrom(env: ChannelContext["env"], variable: string): string {
  const secret = valueIn(env, variable);
  const bytes = /^whsec_[A-Za-z0-9+/]+={0,2}$/.test(secret) ? Buffer.from(secret.slice(6), "base64").length : 0;
  if (bytes < 24 || bytes > 64)
    throw new Error(`${variable} holds no webhook secret: whsec_ and 24 to 64 bytes in base64`);
  return secret;
}

function valueIn(env: ChannelContext["env"], variable: string): string {
  const value = env[variable];
  if (value === undefined || value === "") throw new Error(`the environment variable ${variable} is not set`);
  return value;
}
