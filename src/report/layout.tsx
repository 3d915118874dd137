/**
 * The document around every page: head line, ways to the other pages, caution, and a content-security policy that lets
 * nothing in but the one style and the one script, by their hashes.
 */
import { createHash } from "node:crypto";
import type { ComponentChildren, VNode } from "preact";
import { renderToString } from "preact-render-to-string";
import type { Month } from "../interval/month-result.ts";
import { isoDate } from "../units.ts";
import { unitsJoined } from "./join-units.ts";
import { monthName } from "./number-format.ts";
import { SCRIPT } from "./page-script.ts";
import { STYLE } from "./style.css.ts";

const hashOf = (text: string): string =>
  `'sha256-${createHash("sha256").update(text, "utf8").digest("base64")}'`;

/** No request of any kind; `data:` images only for the empty icon that keeps browsers from asking a server for one. */
export const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  `style-src ${hashOf(STYLE)}`,
  `script-src ${hashOf(SCRIPT)}`,
  "img-src data:",
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");

export const CAUTION = [
  "This report recommends; it changes no interval. The approved maintenance data, the type-certificate holder and the approving authority decide.",
  "What is not known is listed with each recommendation. An interval that stays is not a clearance of the parts it covers.",
] as const;

export interface DocumentProps {
  readonly title: string;
  /** Shown at the left of the head line; the caller's own words. */
  readonly heading: ComponentChildren;
  readonly navigation: ComponentChildren;
  /** Class of the body, for pages that print in their own way. */
  readonly kind?: string | undefined;
  readonly children: ComponentChildren;
}

/** A whole document, for pages of a month and for the list of months alike. */
export function Document({ title, heading, navigation, kind, children }: DocumentProps): VNode {
  return (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta http-equiv="Content-Security-Policy" content={CONTENT_SECURITY_POLICY} />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="referrer" content="no-referrer" />
        <meta name="color-scheme" content="light dark" />
        <link rel="icon" href="data:," />
        <title>{title}</title>
        <style dangerouslySetInnerHTML={{ __html: STYLE }} />
      </head>
      <body class={kind}>
        <a class="skip" href="#content">
          To the content
        </a>
        <header>
          <div class="masthead">{heading}</div>
          {navigation}
        </header>
        <main id="content">{children}</main>
        <footer>
          {CAUTION.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </footer>
        <script dangerouslySetInnerHTML={{ __html: SCRIPT }} />
      </body>
    </html>
  );
}

/** The pages of a month, in the order in which they are read; officers' pages are reached from the first. */
const MONTH_PAGES: readonly { readonly path: string; readonly name: string }[] = [
  { path: "index.html", name: "This month" },
  { path: "trend.html", name: "Wear, lives and trends" },
  { path: "data.html", name: "Data" },
  { path: "method.html", name: "Method" },
  { path: "../index.html", name: "All months" },
];

export interface PageProps {
  readonly title: string;
  readonly month: Month;
  /** The page's own file name, so that the ways to the others can say where the reader is. */
  readonly path: string;
  readonly kind?: string;
  readonly children: ComponentChildren;
}

/** What a month lacks that starts from tables and not from readings. */
const FROM_TABLES =
  "This month starts from tables of lives and of sums of readings that were made elsewhere, not from the readings. So it " +
  "has no robust slope, no power form (upper bounds of the wear line leave out a bend with hours) and no other test of how " +
  "wear goes with hours or dates, nothing on the measuring (heaping below the limit, gauge steps, repeats, odd readings), " +
  "no comparison of rates, no effect of the seal, no record of the watch list, and its numbers lead to a line of the " +
  "tables, not to rows. Each evidence rule that needs one of these counts as failed.";

/** A page of a month. */
export function Page({ title, month, path, kind, children }: PageProps): VNode {
  const heading = (
    <>
      <p>
        <bdi>{month.fleet.name}</bdi> · {monthName(month.month)} · as of {isoDate(month.asOf)}
      </p>
      <p>
        {month.program} · settings {month.settingsSha256.slice(0, 12)}
      </p>
    </>
  );
  const navigation = (
    <nav aria-label="Pages of this month">
      <ul>
        {MONTH_PAGES.map((page) => (
          <li key={page.path}>
            <a href={page.path} aria-current={page.path === path ? "page" : undefined}>
              {page.name}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
  return (
    <Document
      title={`${title} · ${monthName(month.month)}`}
      heading={heading}
      navigation={navigation}
      kind={kind}
    >
      {month.fleet.tables === undefined ? null : <p>{FROM_TABLES}</p>}
      {children}
    </Document>
  );
}

/** A part of a page: its heading in the side column, its body beside it. */
export function Part({
  title,
  id,
  kind,
  data,
  children,
}: {
  readonly title: string;
  readonly id?: string;
  readonly kind?: string;
  /** What the page's script reads, and whether the part waits for it. */
  readonly data?: { readonly [name: `data-${string}`]: string; readonly hidden: boolean };
  readonly children: ComponentChildren;
}): VNode {
  return (
    <section id={id} class={kind} {...data}>
      <h2>{title}</h2>
      <div class="body">{children}</div>
    </section>
  );
}

/** The text of a page as it is published. */
export const renderPage = (page: VNode): string => `<!doctype html>\n${unitsJoined(renderToString(page))}\n`;
