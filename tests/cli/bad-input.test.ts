import { describe, expect, test } from "vitest";
import { run } from "./run.ts";
import { FILES } from "./sample.ts";

/** Command line, what stderr must say. Every one: exit 2, nothing on stdout, no stack. */
const CASES: readonly (readonly [string, RegExp])[] = [
	["", /Usage: levelhead/],
	["chek sample.json", /unknown verb 'chek'\n {2}Did you mean 'check'\?/],
	["margin sample.json", /Did you mean 'margins'\?/],
	["banana", /unknown verb 'banana'\n {2}There is: check, tune, fly, margins, sweep, compare, loop, demo\./],
	["check", /missing required argument 'file'/],
	["check sample.json again.json", /too many arguments/],
	["check --jsn sample.json", /unknown option '--jsn'\n\(Did you mean (one of )?--json/],
	["check sample.json --json --csv", /'--json' cannot be used with option '--csv'/],
	["check sample.jsn", /cannot read 'sample.jsn': no such file or folder/],
	["check scenarios/sandpipper.json", /Did you mean 'scenarios\/sandpiper.json'\?/],
	["check sandpiper", /Did you mean '.*scenarios\/sandpiper.json'\? .*Shipped: /s],
	["check scenarios", /cannot read 'scenarios': it is a folder/],
	["check sample.json/deeper", /cannot read/],
	["check empty.json", /empty.json has 1 error/],
	["check not-json.json", /not-json.json has 1 error/],
	["check list.json", /list.json has 1 error/],
	["check typo.json", /craft.wheelbas: .*did you mean 'wheelbase'\?/],
	["check sample.json --point hevy", /--point 'hevy': the scenario has no such operating point/],
	["check sample.json --point", /option '--point <name>' argument missing/],
	["check sample.json --set C", /--set 'C': the scenario has no such gain set\n {2}There is: A, B\./],
	["fly sample.json --set", /argument missing/],
	["fly sample.json --drill 'rol step'", /--drill 'rol step': .*\n {2}Did you mean 'roll step'\?/],
	["fly sample.json --seed -1", /--seed '-1': expected a whole number/],
	["fly sample.json --seed 1.5", /--seed '1.5': expected a whole number/],
	["fly sample.json --seed x", /--seed 'x': expected a whole number/],
	["fly sample.json --plot step.png", /--plot 'step.png': expected a file name that ends in .svg/],
	["fly sample.json --plot-kind step", /--plot-kind step without --plot/],
	["fly sample.json --plot s.svg --plot-kind stp", /Allowed choices are step, traces/],
	[
		"fly sample.json --out /no-such-folder/t.csv",
		/cannot write trace to '\/no-such-folder\/t.csv': no such file or folder/,
	],
	["fly sample.json --axis rol", /Allowed choices are roll, pitch, yaw/],
	["margins sample.json --opened inner", /Allowed choices are rate, angle, whole/],
	["margins sample.json --axis yaw --opened angle --plot y.svg", /--opened angle: /],
	["tune sample.json --character bold", /Allowed choices are gentle, even, lively/],
	["tune sample.json --save --name ''", /--name '': expected a name of 1 to 80 characters/],
	["tune sample.json --save --name '  '", /--name ' {2}': expected a name of .* not only blanks/],
	["tune sample.json --save --name a.b", /--name 'a.b': expected a name of .* without dots/],
	["tune sample.json --save --name a[0]", /--name 'a\[0\]': expected a name of .* square brackets/],
	[`tune sample.json --save --name ${"x".repeat(90)}`, /--name 'x+': expected a name of 1 to 80/],
	["tune typo.json", /typo.json has 1 error/],
	["compare sample.json --sets A", /only gain set 'A' to compare/],
	["compare sample.json --sets A,Q", /--sets 'Q': the scenario has no such gain set/],
	["compare sample.json --sets A,A", /named twice/],
	["compare sample.json --sets A,B --base C", /--base 'C': the scenario has no such gain set/],
	["compare sample.json --drill nothing", /--drill 'nothing': the scenario has no such drill/],
	["sweep sample.json", /nothing to sweep: expected --over once or twice/],
	["sweep sample.json --over craft.mass", /--over 'craft.mass': expected PATH=FROM..TO:COUNT or PATH=A,B,C/],
	["sweep sample.json --over craft.mass=", /expected numbers behind '='/],
	["sweep sample.json --over craft.mass=1..2", /how many values\? A range ends in ':COUNT'/],
	["sweep sample.json --over craft.mass=1..2:x", /how many values\?/],
	["sweep sample.json --over craft.mass=1..2:0", /count 0: expected a whole number from 1/],
	["sweep sample.json --over craft.mass=1..2:2.5", /count 2.5: expected a whole number/],
	["sweep sample.json --over craft.mass=1..2:1", /one value cannot reach/],
	["sweep sample.json --over craft.mass=1,,2", /'' is not a number/],
	["sweep sample.json --over craft.mas=1..2:3", /--over craft.mas: .*did you mean 'mass'\?/],
	["sweep sample.json --over gainSets.Z.roll.kp=1..2:3", /--over gainSets.Z.roll.kp: /],
	["sweep sample.json --over craft.mass=-2,-1", /--over craft.mass: /],
	["sweep sample.json --over 'craft.mass=1..2:3 mm'", /--over craft.mass: /],
	["sweep sample.json --over craft.mass=1,2 --over craft.mass=1,2 --over craft.mass=1,2", /3 times --over/],
	[
		"sweep sample.json --over craft.mass=1,2 --over craft.mass=3,4",
		/--over craft.mass: .* varies this number/,
	],
	[
		"sweep sample.json --over gainSets.A.roll.kp=1,2 --over gainSets[0].roll.kp=3,4",
		/--over gainSets\[0\].roll.kp: the other --over varies this number already/,
	],
	["sweep sample.json --over craft.mass=1,2 --over craft..mass=3,4", /--over craft\.\.mass: /],
	[
		"sweep sample.json --over craft.mass=1,2 --result phase",
		/--result 'phase': no such result of the margins/,
	],
	["sweep sample.json --over craft.mass=1,2 --result overshootPct", /no such result of the margins/],
	["sweep sample.json --over craft.mass=1,2 --workers 0", /--workers '0': expected a whole number from 1/],
	["sweep sample.json --over craft.mass=1,2 --axis rolll", /Allowed choices are roll, pitch, yaw/],
	["loop", /no --num: expected both/],
	["loop --num 1", /no --den: expected both/],
	["loop --nun 1 --den 1", /unknown option '--nun'/],
	["loop --num 1 --den", /argument missing/],
	["loop --num 1,a --den 1", /--num '1,a': 'a' is not a number/],
	["loop --num 1 --den 0,0", /^levelhead: --den 0,0: expected a coefficient other than 0$/m],
	[
		"loop --num 1,0,0 --den 1,1",
		/^levelhead: --num 1,0,0: degree 2, expected at most 1, that of --den 1,1$/m,
	],
	["loop --num 1 --den 1,1e-312", /^levelhead: --den 1,1e-312: coefficient 1e-312, expected 0 or from 1e-30/],
	["loop --num 1 --den 1,1 --delay -1", /--delay '-1': expected seconds, 0 or from 1e-9 to 1e6/],
	["loop --num 1 --den 1,1 --delay 1e-320", /--delay '1e-320': expected seconds, 0 or from 1e-9 to 1e6/],
	["loop --num 1 --den 1,1 --sample-time 0", /--sample-time '0': expected seconds, from 1e-9 to 1e6/],
	[
		"loop --num 1 --den 1,1 --discrete --sample-time 1 --delay 1.5",
		/^levelhead: --delay 1.5 s is 1.5 periods of a sampled function, expected whole periods/,
	],
	[
		"loop --num 1 --den 1,1 --hold zoh --sample-time 1e-9 --delay 1",
		/^levelhead: --delay 1: 1000000000 times --sample-time 1e-9, expected at most 1000 times/,
	],
	[
		"loop --num 1 --den 1,1e30 --delay 1e6",
		/^levelhead: --num 1 --den 1,1e\+30 --delay 1000000: numbers too far apart for the loop .*: delay 1000000 s/,
	],
	["loop --num 1 --den 1,1 --sample-time 0.01", /sample time 0.01 s without hold or discrete/],
	["loop --num 1 --den 1,1 --hold zoh", /no sample time/],
	["loop --num 1 --den 1,1 --hold foh --sample-time 1", /Allowed choices are zoh/],
	["loop --num 1 --den 1,1 --discrete --hold zoh --sample-time 1", /cannot be used with/],
	["loop --num 1 --den 1,1 extra", /too many arguments/],
	["demo sandpiper", /too many arguments/],
];

const FILES_HERE = { ...FILES, "empty.json": "", "not-json.json": "{ craft: 1 }", "list.json": "[1, 2]" };

describe("bad input ends with 2, a plain message and nothing on stdout", () => {
	test.each(CASES)("levelhead %s", async (line, message) => {
		const argv = (line.match(/'[^']*'|\S+/g) ?? []).map((word) => word.replaceAll("'", ""));
		const result = await run(argv, { files: FILES_HERE });
		expect(result.err).toMatch(message);
		expect(result.code).toBe(2);
		expect(result.files).toEqual({});
		// Where only the writing fails, the answer itself is not thrown away.
		if (!line.includes("/no-such-folder/")) expect(result.out).toBe("");
		expect(result.err).not.toMatch(/^\s+at |node_modules|\.ts:\d/m);
		if (line !== "") expect(result.err).toMatch(/^levelhead: /m);
	});
});

test("a file with errors says all of them, and as JSON on request", async () => {
	const result = await run(["check", "typo.json", "--json"], { files: FILES_HERE });
	expect(result.code).toBe(2);
	const { valid, errors } = JSON.parse(result.out) as {
		valid: boolean;
		errors: { path: string; hint: string }[];
	};
	expect(valid).toBe(false);
	expect(errors[0]).toMatchObject({ path: "craft.wheelbas" });
});

test("a fault of the program itself is told apart, and its stack only on request", async () => {
	for (const debug of [false, true]) {
		const result = await run(["fly", "sample.json", "--plot", "x.svg"], {
			files: FILES,
			debug,
			failWrites: new TypeError("odd"),
		});
		expect(result.code).toBe(70);
		expect(result.err).toContain("a fault of this program, not of your input: odd");
		expect(/^\s+at /m.test(result.err)).toBe(debug);
	}
});
