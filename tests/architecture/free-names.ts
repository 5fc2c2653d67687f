import { type Program, visitorKeys } from "oxc-parser";

/** A name that a module uses and does not declare: a global. */
export interface FreeName {
	readonly name: string;
	/** 'random' for `Math.random`; null where the name stands alone or the member is computed. */
	readonly member: string | null;
	/** Offset in the source. */
	readonly start: number;
}

interface Node {
	readonly type: string;
	readonly start: number;
	readonly [key: string]: unknown;
}

type Scope = { readonly names: Set<string>; readonly parent: Scope | null };

const FUNCTIONS = new Set([
	"FunctionDeclaration",
	"FunctionExpression",
	"ArrowFunctionExpression",
	"TSDeclareFunction",
	"TSEmptyBodyFunctionExpression",
	"TSFunctionType",
	"TSConstructorType",
	"TSMethodSignature",
	"TSCallSignatureDeclaration",
	"TSConstructSignatureDeclaration",
	"TSIndexSignature",
]);
const BLOCKS = new Set([
	"BlockStatement",
	"ForStatement",
	"ForInStatement",
	"ForOfStatement",
	"CatchClause",
	"SwitchStatement",
	"ClassDeclaration",
	"ClassExpression",
	"TSInterfaceDeclaration",
	"TSTypeAliasDeclaration",
	"TSMappedType",
	"TSConditionalType",
	"StaticBlock",
]);
/** Declarations whose own name belongs to the scope around them. */
const NAMED = new Set([
	"FunctionDeclaration",
	"TSDeclareFunction",
	"ClassDeclaration",
	"TSInterfaceDeclaration",
	"TSTypeAliasDeclaration",
	"TSEnumDeclaration",
]);
/** Node type to the child that is a mere label unless `computed`. */
const LABELS: { readonly [type: string]: readonly string[] } = {
	MemberExpression: ["property"],
	Property: ["key"],
	MethodDefinition: ["key"],
	PropertyDefinition: ["key"],
	AccessorProperty: ["key"],
	TSPropertySignature: ["key"],
	TSMethodSignature: ["key"],
	TSQualifiedName: ["right"],
	TSNamedTupleMember: ["label"],
	TSMappedType: ["key"],
	TSEnumMember: ["id"],
	LabeledStatement: ["label"],
	BreakStatement: ["label"],
	ContinueStatement: ["label"],
	MetaProperty: ["meta", "property"],
	ImportDeclaration: ["specifiers"],
	ExportAllDeclaration: ["exported"],
	ExportSpecifier: ["exported"],
	TSImportType: ["qualifier"],
	ImportAttribute: ["key"],
};

/** Every use of a name that no scope of the module declares, in order of the source. */
export function freeNames(program: Program): FreeName[] {
	const scopes = new Map<Node, Scope>();
	const root: Scope = { names: new Set(), parent: null };
	declare(program as unknown as Node, root, root, scopes);
	const found: FreeName[] = [];
	resolve(program as unknown as Node, null, root, scopes, found);
	return found.sort((a, b) => a.start - b.start);
}

function children(node: Node): [string, Node][] {
	const list: [string, Node][] = [];
	for (const key of visitorKeys[node.type] ?? []) {
		const value = node[key];
		for (const child of Array.isArray(value) ? value : [value])
			if (child && typeof child === "object" && "type" in child) list.push([key, child as Node]);
	}
	return list;
}

function declare(node: Node, block: Scope, func: Scope, scopes: Map<Node, Scope>): void {
	if (NAMED.has(node.type) && node["id"]) addPattern(node["id"] as Node, block.names);
	let inner = block;
	let innerFunc = func;
	if (FUNCTIONS.has(node.type) || BLOCKS.has(node.type)) {
		inner = { names: new Set(), parent: block };
		scopes.set(node, inner);
		if (FUNCTIONS.has(node.type)) {
			innerFunc = inner;
			inner.names.add("arguments");
		}
	}
	switch (node.type) {
		case "FunctionExpression":
		case "ClassExpression":
			if (node["id"]) addPattern(node["id"] as Node, inner.names);
			break;
		case "CatchClause":
			if (node["param"]) addPattern(node["param"] as Node, inner.names);
			break;
		case "TSMappedType":
			addPattern(node["key"] as Node, inner.names);
			break;
		case "TSTypeParameter":
			addPattern(node["name"] as Node, inner.names);
			break;
		case "VariableDeclaration": {
			const target = node["kind"] === "var" ? func : block;
			for (const each of node["declarations"] as Node[]) addPattern(each["id"] as Node, target.names);
			break;
		}
		case "ImportSpecifier":
		case "ImportDefaultSpecifier":
		case "ImportNamespaceSpecifier":
			addPattern(node["local"] as Node, block.names);
			break;
	}
	if (FUNCTIONS.has(node.type))
		for (const key of ["params", "parameters"])
			for (const each of (node[key] as Node[] | undefined) ?? []) addPattern(each, inner.names);
	for (const [, child] of children(node)) declare(child, inner, innerFunc, scopes);
}

/** The names that a binding pattern declares. */
function addPattern(node: Node, names: Set<string>): void {
	switch (node.type) {
		case "Identifier":
			names.add(node["name"] as string);
			break;
		case "ObjectPattern":
			for (const each of node["properties"] as Node[])
				addPattern((each.type === "RestElement" ? each["argument"] : each["value"]) as Node, names);
			break;
		case "ArrayPattern":
			for (const each of node["elements"] as (Node | null)[]) if (each) addPattern(each, names);
			break;
		case "AssignmentPattern":
			addPattern(node["left"] as Node, names);
			break;
		case "RestElement":
			addPattern(node["argument"] as Node, names);
			break;
		case "TSParameterProperty":
			addPattern(node["parameter"] as Node, names);
			break;
	}
}

function resolve(
	node: Node,
	parent: Node | null,
	scope: Scope,
	scopes: Map<Node, Scope>,
	found: FreeName[],
): void {
	if (node.type === "Identifier") {
		const name = node["name"] as string;
		if (!isDeclared(name, scope)) found.push({ name, member: memberOf(node, parent), start: node.start });
	}
	if (node.type === "ExportNamedDeclaration" && node["source"]) return;
	const inner = scopes.get(node) ?? scope;
	const labels = node["computed"] === true ? [] : (LABELS[node.type] ?? []);
	for (const [key, child] of children(node))
		if (!labels.includes(key)) resolve(child, node, inner, scopes, found);
}

function isDeclared(name: string, scope: Scope): boolean {
	for (let s: Scope | null = scope; s; s = s.parent) if (s.names.has(name)) return true;
	return false;
}

function memberOf(node: Node, parent: Node | null): string | null {
	if (parent?.type === "MemberExpression" && parent["object"] === node && parent["computed"] !== true)
		return ((parent["property"] as Node)["name"] as string | undefined) ?? null;
	if (parent?.type === "TSQualifiedName" && parent["left"] === node)
		return ((parent["right"] as Node)["name"] as string | undefined) ?? null;
	return null;
}
