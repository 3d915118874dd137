import { WHAT_IF_SCRIPT } from "./what-if-script.ts";

/**
 * The one script of every page, in two parts: one sorts tables by a click on a heading and filters their rows by words, the other is the
 * officer's sliders (what-if-script.ts). Pages are complete without it; what it adds it builds itself, so nothing shows that does not work. Hashed into the content-security policy.
 */
const TABLE_SCRIPT = `
"use strict";
(function () {
  function valueOf(row, column) {
    var cell = row.cells[column];
    if (!cell) return "";
    var given = cell.getAttribute("data-sort");
    return given === null ? cell.textContent.trim() : given;
  }
  function compare(a, b) {
    var x = Number(a), y = Number(b);
    var bothNumbers = a !== "" && b !== "" && !isNaN(x) && !isNaN(y);
    if (bothNumbers) return x - y;
    return a < b ? -1 : a > b ? 1 : 0;
  }
  function sortBy(table, heads, column) {
    var rising = heads[column].getAttribute("aria-sort") !== "ascending";
    Array.prototype.forEach.call(heads, function (head) { head.removeAttribute("aria-sort"); });
    heads[column].setAttribute("aria-sort", rising ? "ascending" : "descending");
    var body = table.tBodies[0];
    var rows = Array.prototype.slice.call(body.rows);
    var at = new Map(rows.map(function (row, index) { return [row, index]; }));
    rows.sort(function (a, b) {
      var order = compare(valueOf(a, column), valueOf(b, column));
      return (rising ? order : -order) || at.get(a) - at.get(b);
    });
    rows.forEach(function (row) { body.appendChild(row); });
  }
  function addFilter(table) {
    var label = document.createElement("label");
    label.className = "filter";
    label.textContent = "Show only rows with";
    var input = document.createElement("input");
    input.type = "search";
    label.appendChild(input);
    table.parentNode.insertBefore(label, table);
    input.addEventListener("input", function () {
      var words = input.value.toLowerCase().split(/\\s+/).filter(Boolean);
      Array.prototype.forEach.call(table.tBodies[0].rows, function (row) {
        var text = row.textContent.toLowerCase();
        row.hidden = !words.every(function (word) { return text.indexOf(word) >= 0; });
      });
    });
  }
  Array.prototype.forEach.call(document.querySelectorAll("table[data-sortable]"), function (table) {
    var heads = table.tHead.rows[0].cells;
    if (table.tBodies[0].rows.length < 2) return;
    Array.prototype.forEach.call(heads, function (head, column) {
      if (head.textContent === "" || head.hasAttribute("data-fixed")) return;
      var button = document.createElement("button");
      button.type = "button";
      while (head.firstChild) button.appendChild(head.firstChild);
      head.appendChild(button);
      button.addEventListener("click", function () { sortBy(table, heads, column); });
    });
    if (table.tBodies[0].rows.length > 5) addFilter(table);
  });
})();
`;

export const SCRIPT = TABLE_SCRIPT + WHAT_IF_SCRIPT;
