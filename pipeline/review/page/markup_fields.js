// The fields that a mark needs beside its points, and the word they make.

import {make} from "./element.js";

// fieldsOf gives the elements of the named fields; changed is called when one
// of them is.
export function fieldsOf(names, changed) {
  const input = (size, options = {}) => make("input", {size, autocomplete: "off", spellcheck: "false", onchange: changed, ...options});
  const choice = (...values) => make("select", {onchange: changed}, ...values.map(v => make("option", {value: v, text: v})));
  const made = {
    find: () => [["Find, where the photo shows several ", input(6)]],
    of: () => [["Which north ", choice("magnetic", "true", "grid")]],
    name: () => [["Name ", input(10, {placeholder: "femur"})]],
    what: () => [["Of ", choice("bone", "block")]],
    level: () => [["Level, cm below the reference; blank: as the photo's ", input(4, {inputmode: "decimal"})]],
    square: () => [["Square, blank: everywhere ", input(4, {placeholder: "B3"})]],
    depth: () => [["Depth, cm ", input(4, {inputmode: "decimal"})]],
    between: () => [["From ", input(5, {placeholder: "A1"})], ["to ", input(5, {placeholder: "F6"})]],
    taped: () => [["Taped, mm ", input(5, {inputmode: "decimal"})]],
    yes: () => [["", choice("yes", "no")]],
  };
  const held = Object.fromEntries(names.map(n => [n, made[n]()]));
  const elements = Object.values(held).flat().map(([text, element]) => make("label", {}, text, element));
  const value = (name, i = 0) => (held[name] ? held[name][i][1].value.trim() : "");
  const level = () => {
    const text = value("level").replace(",", ".");
    return text === "" || Number.isNaN(Number(text)) ? null : Number(text);
  };

  // word gives what is said and its value, as words.log has them.
  function word(mark, places) {
    switch (mark) {
      case "end 1": case "end 2": return [`${mark} ${value("find")}`.trim(), places];
      case "north": return [mark, `${places} ${value("of")}`];
      case "outline": return [`outline ${value("name") || value("what")}`, `${value("what")}${level() === null ? "" : ` level ${level()}cm`} at ${places}`];
      case "depth": return [`depth ${value("square")}`.trim(), `${value("depth")}cm`];
      case "tape": return [`tape ${value("between")} to ${value("between", 1)}`, `${value("taped")}mm at ${places}`];
      case "chosen": case "leave_out": return [mark, value("yes")];
    }
    return [mark, places];
  }

  return {elements, level, word};
}
