// A screen: what is read above the tideline, what is touched below it. Page, Header, Touch and Quick are its frame.
import type { ComponentChildren, JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { href, route } from "../nav";
import { t } from "../words";
import { Icon, type IconName } from "./Icon";

type PageProps = {
  title: string;
  /** Where Back goes, as a hash, and what it is called. */
  back?: { href: string; name: string } | undefined;
  /** One thing at the right of the title: a segment, a short text. */
  side?: ComponentChildren;
  /** In place of title, back and side; must contain the h1. */
  head?: ComponentChildren;
  touch?: ComponentChildren;
  children?: ComponentChildren;
};

export function Page({ title, back, side, head, touch, children }: PageProps) {
  useEffect(() => { document.title = `${title} · Plytide`; }, [title]);
  return (
    <div class="page">
      <main class="read">
        {head ?? <Header title={title} back={back} side={side} />}
        {children}
        <a class="text-button help" href={href("help", route.value.path, ...route.value.at)}><Icon name="help" />{t("common.help")}</a>
      </main>
      {touch && <Touch>{touch}</Touch>}
    </div>
  );
}

export const Header = ({ title, back, side }: Pick<PageProps, "title" | "back" | "side">) => (
  <header class="head">
    {back && <a class="back" href={back.href} aria-label={t("common.back", { where: back.name })}><Icon name="back" /></a>}
    <h1 tabIndex={-1}>{title}</h1>
    {typeof side === "string" ? <span class="side">{side}</span> : side}
  </header>
);

/** The thumb zone. It sticks to the bottom unless it would take more than 45 % of the view. What comes and goes in it
 *  (`data-passing`) does not count, so that nothing moves from under a thumb. */
export function Touch({ children }: { children: ComponentChildren }) {
  const zone = useRef<HTMLElement>(null);
  const [flows, setFlows] = useState(false);
  useEffect(() => {
    const measure = () => {
      if (!zone.current) return;
      let height = zone.current.offsetHeight;
      for (const passing of zone.current.querySelectorAll<HTMLElement>("[data-passing]")) height -= passing.offsetHeight;
      setFlows(height > innerHeight * 0.45);
    };
    const watch = new ResizeObserver(measure);
    if (zone.current) watch.observe(zone.current);
    addEventListener("resize", measure);
    return () => { watch.disconnect(); removeEventListener("resize", measure); };
  }, []);
  return <section class={flows ? "touch flows" : "touch"} aria-label={t("common.actions")} ref={zone}>{children}</section>;
}

export type QuickItem = { name: string; icon: IconName; href?: string; onClick?: (event: Event) => void; current?: boolean; tap?: string };

/** Up to four ways on, at the very bottom. */
export const Quick = ({ items, label }: { items: QuickItem[]; label: string }) => (
  <nav class="quick" aria-label={label}>
    {items.map(({ name, icon, href, onClick, current, tap }) => {
      const inside: JSX.Element = <><Icon name={icon} />{name}</>;
      return href
        ? <a key={name} href={href} onClick={onClick} aria-current={current ? "page" : undefined}>{inside}</a>
        : <button key={name} type="button" onClick={onClick} data-tap={tap}>{inside}</button>;
    })}
  </nav>
);
