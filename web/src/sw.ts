/// <reference lib="webworker" />
declare const BUILD: string;
declare const PRECACHE: string[];
export {};
void BUILD; void PRECACHE;
