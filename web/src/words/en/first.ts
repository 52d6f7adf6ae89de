import type { Words } from "..";

export const first = { title: "First" } satisfies Words;
