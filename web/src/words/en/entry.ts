import type { Words } from "..";

export const entry = { title: "Entry" } satisfies Words;
