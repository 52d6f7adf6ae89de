// Clinic links, as the server keeps them: a link cannot be made without it.
import { sync } from "./sync";
import { waiting } from "./talk";
import { ask } from "./pairing";
import type { Lang } from "../words";
import type { Kind } from "./kinds";

/** One attempt at a link: "opened", or why it was refused. `at` RFC 3339. */
export type Opening = { at: string; result: "opened" | "wrong_code" | "expired" | "revoked" | "locked" };

/** What a link shows: the last `days`, or `from` to `to`, or everything; `kinds` null is all of them. */
export type LinkSpec = { days?: number; from?: string; kinds: readonly Kind[] | null; notes: boolean; live: boolean; hours: number; files: boolean; language: Lang };

/** A clinic link. `code` is told apart from `url`; `state` says whether it still opens. Times RFC 3339. */
export type Link = {
  id: string; url: string; code: string | null; state: "open" | "expired" | "revoked" | "locked";
  made_at: string; expires: string; tries_left: number;
  days: number | null; from: string | null; to: string | null; kinds: Kind[] | null; notes: boolean; live: boolean;
  /** The same link for programs that keep health records; null where no files were ticked. */
  health_link: string | null;
  openings: Opening[];
};

/** All links, newest first. */
export const links = async (): Promise<Link[]> => (await ask<{ links: Link[] }>("GET", "/api/links")).links;

/** Makes a link. What waits on the phone goes first, so that a snapshot has it; what could not go is told on the page. */
export async function makeLink(spec: LinkSpec): Promise<Link> {
  await sync();
  return ask("POST", "/api/links", { ...spec, waiting: waiting.value });
}

export const stopLink = (id: string): Promise<unknown> => ask("DELETE", `/api/links/${encodeURIComponent(id)}`);

/** The address of a link's QR code, a picture in SVG; with `health` it holds the link for programs as well. */
export const qrOf = (id: string, health = false): string => `/api/links/${encodeURIComponent(id)}/qr${health ? "?health=true" : ""}`;

/** Where the wearer sees what a link of this form would show. */
export function previewOf({ days, from, kinds, notes, language }: LinkSpec): string {
  const asked = new URLSearchParams({ notes: String(notes), language });
  if (days) asked.set("days", String(days));
  if (from) asked.set("from", from);
  if (kinds) asked.set("kinds", kinds.join(","));
  return `/api/links/preview?${asked.toString()}`;
}
