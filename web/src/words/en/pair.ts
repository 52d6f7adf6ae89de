import type { Words } from "..";

export const pair = { title: "Pair" } satisfies Words;
