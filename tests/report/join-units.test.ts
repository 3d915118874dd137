import { describe, expect, it } from "vitest";
import { unitsJoined } from "../../src/report/join-units.ts";

describe("unitsJoined(html)", () => {
  it("joins numbers to %, h, mm and thou in text", () => {
    expect(unitsJoined("<p>Keep 300 h: 95 % of looks, 0.50 mm (20 thou).</p>")).toBe(
      "<p>Keep 300\u202fh: 95\u202f% of looks, 0.50\u202fmm (20\u202fthou).</p>",
    );
    expect(unitsJoined("<b>1000 h</b>")).toBe("<b>1000\u202fh</b>");
  });

  it("leaves words, attributes, style and script as they are", () => {
    const html =
      '<p title="3 h">3 hours, 12 half, 5 mmHg, 7 hélices</p><style>a { width: 3 % }</style><script>1 %2; "<p>9 h"</script>';
    expect(unitsJoined(html)).toBe(html);
  });
});
