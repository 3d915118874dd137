/**
 * The sliders of an officer's page, as a part of the one script: three stepped sliders over a table of answers that was
 * made with the page. Nothing is computed here. Off the published settings the page says so across its head and hides
 * proposal and signatures; printing goes back to the published settings first.
 */
export const WHAT_IF_SCRIPT = `
"use strict";
(function () {
  var section = document.querySelector("[data-what-if]");
  if (!section) return;
  var given = JSON.parse(section.getAttribute("data-what-if"));
  var body = section.querySelector(".body");
  var head = document.querySelector(".what-if-head");
  var sliders = [];
  var answer = document.createElement("p");
  answer.className = "what-if-answer";
  answer.setAttribute("role", "status");
  var back = document.createElement("button");
  back.type = "button";
  back.textContent = "Back to the published settings";

  function steps() { return sliders.map(function (slider) { return Number(slider.input.value); }); }
  function published() {
    return sliders.every(function (slider) { return Number(slider.input.value) === slider.at; });
  }
  function show() {
    var at = steps();
    var onLimit = sliders.length > 2 && at[2] !== sliders[2].at;
    var line = onLimit ? given.byLimit[at[2]] : given.answers[at[0]][at[1]];
    sliders.forEach(function (slider, index) {
      var words = slider.steps[at[index]];
      if (at[index] === slider.at) words += " (published)";
      slider.output.textContent = words;
      slider.input.setAttribute("aria-valuetext", words);
    });
    var before = section.getBoundingClientRect().top;
    var asking = !published();
    answer.textContent = given.lines[line];
    document.body.classList.toggle("asking", asking);
    head.hidden = !asking;
    back.hidden = !asking;
    // What is hidden above must not move the slider away from under the hand.
    window.scrollBy(0, section.getBoundingClientRect().top - before);
  }
  function reset(kept) {
    sliders.forEach(function (slider) { if (kept.indexOf(slider) < 0) slider.input.value = String(slider.at); });
  }
  given.sliders.forEach(function (one, index) {
    var label = document.createElement("label");
    var input = document.createElement("input");
    var output = document.createElement("output");
    label.textContent = one.name;
    label.htmlFor = input.id = "what-if-" + index;
    output.htmlFor = input.id;
    input.type = "range";
    input.min = "0";
    input.max = String(one.steps.length - 1);
    input.step = "1";
    input.value = String(one.at);
    input.autocomplete = "off";
    var slider = { input: input, output: output, at: one.at, steps: one.steps };
    sliders.push(slider);
    input.addEventListener("input", function () {
      // The limit is told from the wear method alone, so it never moves together with the others.
      if (index === 2) reset([slider]);
      else if (sliders[2]) reset(sliders.slice(0, 2));
      show();
    });
    var row = document.createElement("div");
    row.className = "what-if-row";
    row.appendChild(label);
    row.appendChild(input);
    row.appendChild(output);
    body.appendChild(row);
  });
  back.addEventListener("click", function () { reset([]); show(); sliders[0].input.focus(); });
  body.appendChild(answer);
  body.appendChild(back);
  window.addEventListener("beforeprint", function () { reset([]); show(); });
  section.hidden = false;
  show();
})();
`;
