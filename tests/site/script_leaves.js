// Prints each script's leaves, name by name: what is left of it when nobody looks at blanks and comments.
"use strict";
const fs = require("fs");
const ts = require("/usr/share/nodejs/typescript/lib/typescript.js");

function leavesOf(text) {
  const file = ts.createSourceFile("script.js", text, ts.ScriptTarget.Latest, false, ts.ScriptKind.JS);
  const leaves = [];
  const walk = (node) => {
    let inner = 0;
    ts.forEachChild(node, (child) => {
      inner += 1;
      walk(child);
    });
    if (!inner) leaves.push(`${ts.SyntaxKind[node.kind]} ${node.text === undefined ? "" : node.text}`);
  };
  walk(file);
  return leaves;
}

const scripts = JSON.parse(fs.readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(scripts.map(leavesOf)));
