/** How an export writes its text: delimiter, decimal mark, dates, encoding, line ends. */
import { type Day, isoDate } from "../units.ts";

export interface Dialect {
  readonly delimiter: ";" | "," | "\t";
  readonly decimal: "." | ",";
  readonly dates: "yyyy-MM-dd" | "dd.MM.yyyy";
  readonly encoding: "utf-8" | "windows-1252";
  readonly lineEnd: "\n" | "\r\n";
}

/** An export as lines of text, before it becomes bytes. */
export interface ExportText {
  /** Under the fleet file's folder, with forward slashes. */
  readonly path: string;
  readonly dialect: Dialect;
  /** Without line ends; the first is the heading. */
  readonly lines: string[];
}

export interface ExportFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** A day as the dialect writes it. */
export function writeDate(day: Day, dialect: Dialect): string {
  const iso = isoDate(day);
  if (dialect.dates === "yyyy-MM-dd") return iso;
  return `${iso.slice(8, 10)}.${iso.slice(5, 7)}.${iso.slice(0, 4)}`;
}

/** A number as the dialect writes it. */
export function writeNumber(value: number, decimals: number, dialect: Dialect): string {
  const text = value.toFixed(decimals);
  return dialect.decimal === "," ? text.replace(".", ",") : text;
}

/** One line: cells that hold the delimiter or a quote are quoted (RFC 4180). */
export function writeLine(cells: readonly string[], dialect: Dialect): string {
  return cells
    .map((cell) =>
      cell.includes(dialect.delimiter) || cell.includes('"') ? `"${cell.replaceAll('"', '""')}"` : cell,
    )
    .join(dialect.delimiter);
}

/** The bytes of an export. Every text we write has only characters that windows-1252 shares with Latin-1. */
export function encodeExport(text: ExportText): ExportFile {
  const { dialect, lines, path } = text;
  const content = lines.map((line) => line + dialect.lineEnd).join("");
  return { path, bytes: encodeText(content, dialect.encoding) };
}

/** Text as bytes of the dialect's encoding. */
export function encodeText(content: string, encoding: Dialect["encoding"]): Uint8Array {
  if (encoding === "utf-8") return new TextEncoder().encode(content);
  return Uint8Array.from(content, (character) => {
    const code = character.charCodeAt(0);
    if (code > 0xff || (code >= 0x80 && code < 0xa0)) {
      throw new Error(`not written in windows-1252: ${JSON.stringify(character)}`);
    }
    return code;
  });
}
