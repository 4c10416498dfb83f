// Holds a linked script to the modules that it is made of: every name must mean in it what it meant
// in them, and everything else must be the same, word for word. Asks Debian's own type checker what
// a name means, and prints where it differs.
"use strict";
const fs = require("fs");
const path = require("path");
const ts = require("/usr/share/nodejs/typescript/lib/typescript.js");

const { modules, entries, linked } = JSON.parse(fs.readFileSync(0, "utf8"));
const LINKED = "linked.js";
const files = new Map();
for (const [name, text] of Object.entries({ ...modules, [LINKED]: linked })) {
  files.set(name, ts.createSourceFile(name, text, ts.ScriptTarget.Latest, true, ts.ScriptKind.JS));
}
const program = ts.createProgram([...files.keys()], { allowJs: true, noLib: true, noResolve: true }, {
  getSourceFile: (name) => files.get(name),
  getDefaultLibFileName: () => "", writeFile: () => {}, getCurrentDirectory: () => "",
  getCanonicalFileName: (name) => name, useCaseSensitiveFileNames: () => true,
  getNewLine: () => "\n", fileExists: (name) => files.has(name), readFile: () => undefined,
});
const checker = program.getTypeChecker();

/** What each module imports: a name to the place where it is exported. */
function importsOf(name) {
  const taken = new Map();
  files.get(name).statements.filter(ts.isImportDeclaration).forEach((statement) => {
    const from = path.posix.join(path.posix.dirname(name), statement.moduleSpecifier.text);
    statement.importClause.namedBindings.elements.forEach((one) => taken.set(one.name.text, from));
  });
  return taken;
}

/** The statement that declares a name at the top of a file, or undefined. */
function topOf(name, wanted) {
  const symbol = checker.resolveName(wanted, files.get(name), ts.SymbolFlags.Value, false);
  return symbol && symbol.declarations && symbol.declarations[0];
}

/** What a script says, leaf by leaf: a name as what it means, everything else as it stands. */
function meaningsOf(statements, taken) {
  const found = [];
  const place = (declared) => `${declared.getSourceFile().fileName}@${declared.pos}`;
  function name(node) {
    const declares = node.parent.name === node && node.parent.symbol;
    if (taken.has(node.text) && !declares) {
      const inner = checker.resolveName(node.text, node, ts.SymbolFlags.Value, false);
      if (!inner || !inner.declarations || ts.isImportSpecifier(inner.declarations[0])) {
        const declared = topOf(taken.get(node.text), node.text);
        return found.push(["name", declared ? place(declared) : `nowhere ${node.text}`]);
      }
    }
    const symbol = declares || checker.resolveName(node.text, node, ts.SymbolFlags.Value, false);
    const declared = symbol && symbol.declarations && symbol.declarations[0];
    return found.push(declared ? ["name", place(declared)] : ["global", node.text]);
  }
  function walk(node) {
    if (node.kind === ts.SyntaxKind.ExportKeyword) return;
    const key = ts.isShorthandPropertyAssignment(node) ? node.name
      : ts.isPropertyAssignment(node) ? node.name
        : ts.isBindingElement(node) && ts.isObjectBindingPattern(node.parent) && !node.dotDotDotToken
          ? node.propertyName || node.name : null;
    if (key && ts.isIdentifier(key)) {
      found.push(["key", key.text]);
      if (ts.isShorthandPropertyAssignment(node)) {
        found.push(shorthand(node));
        if (node.objectAssignmentInitializer) walk(node.objectAssignmentInitializer);
      } else if (ts.isPropertyAssignment(node)) walk(node.initializer);
      else {
        walk(node.name);
        if (node.initializer) walk(node.initializer);
      }
      return;
    }
    if (ts.isIdentifier(node)) {
      const { parent } = node;
      const plain = (parent.name === node && (ts.isPropertyAccessExpression(parent)
        || ts.isClassElement(parent) || ts.isObjectLiteralElementLike(parent)))
        || ts.isLabeledStatement(parent) || ts.isBreakOrContinueStatement(parent);
      if (plain) found.push(["key", node.text]);
      else name(node);
      return;
    }
    let inner = 0;
    ts.forEachChild(node, (child) => { inner += 1; walk(child); });
    const text = inner || node.text === undefined ? "" : node.text;
    found.push([ts.SyntaxKind[node.kind], text]);
  }
  function shorthand(node) {
    const before = found.length;
    const symbol = checker.getShorthandAssignmentValueSymbol(node);
    const declared = symbol && symbol.declarations && symbol.declarations[0];
    if (declared && !ts.isImportSpecifier(declared)) return ["name", place(declared)];
    name(node.name);
    return found.splice(before)[0];
  }
  statements.forEach(walk);
  return found;
}

const ordered = [];
function take(name) {
  if (ordered.includes(name)) return;
  for (const from of importsOf(name).values()) take(from);
  ordered.push(name);
}
entries.forEach(take);

const whole = files.get(LINKED).statements[0].expression.expression.expression;
const [body, handed] = [whole.body.statements, whole.parameters[0]];
const said = body.filter((statement, at) => at > 0 && !(at === body.length - 1
  && /^Object\.assign\(Ohm/.test(statement.getText())));
const faults = [];
const [becomes, was] = [new Map(), new Map()];
let [at, names] = [0, 0];
for (const name of ordered) {
  const own = files.get(name).statements.filter((one) => !ts.isImportDeclaration(one));
  const before = meaningsOf(own, importsOf(name));
  const after = meaningsOf(said.slice(at, at + own.length), new Map());
  at += own.length;
  if (before.length !== after.length) faults.push(`${name}: ${before.length} leaves became ${after.length}`);
  before.forEach(([kind, text], place) => {
    const [kindNow, textNow] = after[place] || [];
    if (kind === "name") names += 1;
    const same = kind === "name" && kindNow === "name"
      ? (becomes.get(text) || textNow) === textNow && (was.get(textNow) || text) === text
      : kind === kindNow && text === textNow;
    // Our one global is handed to the function that a script is, under its own name.
    if (text === "Ohm" && kind === "global" && textNow === `${LINKED}@${handed.pos}`) return;
    if (kind === "name") { becomes.set(text, textNow); was.set(textNow, text); }
    if (!same) faults.push(`${name}: ${kind} ${text} became ${kindNow} ${textNow}`);
  });
}
if (at !== said.length) faults.push(`${said.length - at} statements belong to no module`);
process.stdout.write(JSON.stringify({ faults: faults.slice(0, 20), names }));
