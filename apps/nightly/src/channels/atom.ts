import { Feed } from "feed";
import { html, titleOf } from "../forecast/texts";
import type { FeedItem } from "../ledger/ledger";
import { uuidOf } from "../ledger/uuid-of";

export interface AtomSettings {
  readonly title: string;
  readonly author: string;
  readonly url?: string | undefined;
  /** By which readers know the feed, whatever its URL. */
  readonly id: string;
}

/** An Atom feed (RFC 4287), newest night first. */
export function atomFeed(settings: AtomSettings, items: readonly FeedItem[]): string {
  const feed = new Feed({
    id: settings.id,
    title: settings.title,
    author: { name: settings.author },
    updated: new Date(Math.max(0, ...items.map(({ updatedMs }) => updatedMs))),
    generator: "Fieldstop",
    copyright: "",
    ...(settings.url === undefined ? {} : { feedLinks: { atom: settings.url } }),
  });
  for (const { id, updatedMs, message } of items) {
    feed.addItem({
      id: `urn:uuid:${uuidOf(id)}`,
      title: titleOf(message),
      date: new Date(updatedMs),
      published: new Date(updatedMs),
      // an entry needs a link, and there is no page of it: the place itself (RFC 5870)
      link: `geo:${message.place.latitude},${message.place.longitude}`,
      description: message.headline,
      content: html(message),
    });
  }
  return feed.atom1();
}
