import type { FeedItem } from "./ledger";

/** Parts items into those of the newest `keep` nights, newest first, and those before. */
export function newestNights(items: readonly FeedItem[], keep: number): { shown: FeedItem[]; past: FeedItem[] } {
  const order = ({ message, id }: FeedItem): string => `${message.date} ${id}`;
  const sorted = [...items].sort((a, b) => (order(a) < order(b) ? 1 : -1));
  const nights = new Set([...new Set(sorted.map(({ message }) => message.date))].slice(0, keep));
  const isShown = ({ message }: FeedItem): boolean => nights.has(message.date);
  return { shown: sorted.filter(isShown), past: sorted.filter((item) => !isShown(item)) };
}
