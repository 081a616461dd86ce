// Runs the script of report pages outside of a browser: a document of just as much as it touches.
// node recompute-under-node.js SCRIPT PAGES, a JSON list of {trials, numbers: [{is, text}]};
// prints for each page what stands in its line, and every number that differs.
'use strict';
const fs = require('fs');
const vm = require('vm');
const [script, pages] = process.argv.slice(2).map((file) => fs.readFileSync(file, 'utf8'));
const element = (textContent = '') => ({
  textContent, children: [], classList: {add() {}}, append(child) { this.children.push(child); },
});
const results = JSON.parse(pages).map((page) => {
  const byId = {trials: element(page.trials), recomputed: element(), 'recomputed-rows': element()};
  vm.runInNewContext(script, {document: {
    getElementById: (id) => byId[id],
    querySelectorAll: () => page.numbers.map((n) => ({...element(n.text), dataset: {is: n.is}})),
    createElement: () => element(),
  }});
  const rows = byId['recomputed-rows'].children
    .map((row) => row.children.map((cell) => cell.textContent));
  return {line: byId.recomputed.textContent, differing: rows.filter((row) => row[3] !== 'equal')};
});
process.stdout.write(JSON.stringify(results));
