import { describe, expect, it } from "vitest";
import { compactSvg } from "../../../src/report/charts/compact-svg.ts";

describe("compactSvg(inner)", () => {
  it("opens groups that say nothing and drops leaves that draw nothing (by hand)", () => {
    const inner =
      '<g fill="none"><g class="a" role="img"><g transform="translate(0,0)"><path class="background" d="M0,0h9v9h-9Z"/>' +
      '<g><text fill="red">a &lt; b</text></g><path d="" display="none" fill="red"/></g></g></g>';
    expect(compactSvg(inner)).toBe('<g fill="none"><text fill="red">a &lt; b</text></g>');
  });

  it("says once what neighbours have in common, and leaves opacity and place with each", () => {
    const inner =
      '<line transform="translate(1,0)" stroke="red" opacity="0.5"/><line transform="translate(2,0)" stroke="red"/>' +
      '<line stroke="blue"/>';
    expect(compactSvg(inner)).toBe(
      '<g stroke="red"><line transform="translate(1,0)" opacity="0.5"/><line transform="translate(2,0)"/></g>' +
        '<line stroke="blue"/>',
    );
  });

  it("keeps the order in which marks cover each other", () => {
    const inner = '<path d="M0,0" fill="a"/><path d="M1,1" fill="b"/><path d="M2,2" fill="a"/>';
    expect(compactSvg(inner)).toBe(inner);
  });

  it("keeps groups that place, clip or fade what is in them", () => {
    const inner =
      '<g transform="translate(3,4)"><path d="M0,0" fill="a"/></g><g clip-path="url(#c)"><path d="M0,0" fill="a"/></g>' +
      '<g opacity="0.5"><path d="M0,0" fill="a"/></g>';
    expect(compactSvg(inner)).toBe(inner);
  });

  it("rounds places and long paths to a tenth, other numbers to a thousandth, but no text", () => {
    const long = Array.from({ length: 40 }, (_, at) => `L${at}.123,2`).join("");
    const inner = `<path transform="translate(0.25,-0.25)" d="M0.1,-9.96e-7${long}" opacity="0.1234567" fill="x"/><text fill="x">0.123456</text>`;
    expect(compactSvg(inner)).toBe(
      `<g fill="x"><path transform="translate(0.3,-0.3)" d="M0.1,0${long.replaceAll(".123", ".1")}" opacity="0.123"/><text>0.123456</text></g>`,
    );
  });

  it("keeps a symbol's circle round", () => {
    const circle = '<path d="M2.553,0A2.553,2.553,0,1,1,-2.553,0A2.553,2.553,0,1,1,2.553,0" fill="x"/>';
    expect(compactSvg(circle)).toBe(circle.replaceAll("2.553", "2.55"));
  });

  it("refuses markup that does not close", () => {
    expect(() => compactSvg("<g><path/>")).toThrow("not closed");
    expect(() => compactSvg("<g></path>")).toThrow("closes");
  });
});
