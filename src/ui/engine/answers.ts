import { type ReadonlySignal, signal, useSignalEffect } from "@preact/signals";
import { useState } from "preact/hooks";
import { browserPool } from "../../../workers/browser-pool.ts";
import type { PageJobs } from "../../../workers/page-jobs.ts";
import { JobCancelled } from "../../../workers/pool.ts";
import { useQuestion } from "./question.ts";

const pool = browserPool();

type Kind = keyof PageJobs & string;
type ResultOf<K extends Kind> = PageJobs[K]["result"];

/** What is known of a question put to the workers. */
export interface Answer<T> {
	/** The newest answer there is; while `fresh` is false it belongs to an earlier question. */
	readonly value: T | null;
	readonly fresh: boolean;
	/** Why there is none; empty otherwise. */
	readonly error: string;
}

interface Asked {
	readonly promise: Promise<unknown>;
	readonly stop: AbortController;
	waiting: number;
	settled: boolean;
}

/** Answers by question, newest last: a question asked twice is worked out once. */
const known = new Map<string, Asked>();
const KEPT = 60;

/** A question put to the workers; it is dropped once everyone who asked it has let go before there was an answer. */
function ask<K extends Kind>(
	kind: K,
	job: PageJobs[K]["job"],
): { readonly answer: Promise<ResultOf<K>>; readonly letGo: () => void } {
	const key = `${kind} ${JSON.stringify(job)}`;
	const asked = known.get(key) ?? begin(key, kind, job);
	asked.waiting++;
	let held = true;
	const letGo = (): void => {
		if (!held) return;
		held = false;
		asked.waiting--;
		if (asked.waiting > 0 || asked.settled) return;
		known.delete(key);
		asked.stop.abort();
	};
	return { answer: asked.promise as Promise<ResultOf<K>>, letGo };
}

function begin<K extends Kind>(key: string, kind: K, job: PageJobs[K]["job"]): Asked {
	const stop = new AbortController();
	const promise = pool.run(kind, job, { signal: stop.signal });
	const asked: Asked = { promise, stop, waiting: 0, settled: false };
	known.set(key, asked);
	promise.then(
		() => {
			asked.settled = true;
		},
		() => {
			asked.settled = true;
			if (known.get(key) === asked) known.delete(key);
		},
	);
	for (const [old, each] of known) {
		if (known.size <= KEPT) break;
		if (each.settled) known.delete(old);
	}
	return asked;
}

/**
 * The answer to a question that changes with the page: `question` reads signals and returns the job, or null for none. The newest
 * question wins; an older one still under way is cancelled. The old answer stays, not fresh, until the new one is there.
 */
export function useAnswer<K extends Kind>(
	kind: K,
	question: () => PageJobs[K]["job"] | null,
): ReadonlySignal<Answer<ResultOf<K>>> {
	const [answer] = useState(() => signal<Answer<ResultOf<K>>>({ value: null, fresh: false, error: "" }));
	const job = useQuestion(question);
	useSignalEffect(() => {
		const asked = job.value;
		if (asked === null) {
			answer.value = { value: null, fresh: true, error: "" };
			return undefined;
		}
		let wanted = true;
		answer.value = { ...answer.peek(), fresh: false };
		const { answer: coming, letGo } = ask(kind, asked);
		coming.then(
			(value) => {
				if (wanted) answer.value = { value, fresh: true, error: "" };
			},
			(error: unknown) => {
				if (!wanted || error instanceof JobCancelled) return;
				answer.value = {
					value: null,
					fresh: true,
					error: error instanceof Error ? error.message : String(error),
				};
			},
		);
		return () => {
			wanted = false;
			letGo();
		};
	});
	return answer;
}

/** The same for several questions of a kind at once, in their order; each answer comes when it is there. */
export function useAnswers<K extends Kind>(
	kind: K,
	questions: () => readonly PageJobs[K]["job"][],
): ReadonlySignal<readonly Answer<ResultOf<K>>[]> {
	const [answers] = useState(() => signal<readonly Answer<ResultOf<K>>[]>([]));
	const jobs = useQuestion(questions);
	useSignalEffect(() => {
		const asked = jobs.value;
		let wanted = true;
		const before = answers.peek();
		answers.value = asked.map((_, i) => ({ value: before[i]?.value ?? null, fresh: false, error: "" }));
		const put = (i: number, answer: Answer<ResultOf<K>>): void => {
			if (wanted) answers.value = answers.peek().map((each, k) => (k === i ? answer : each));
		};
		const under = asked.map((job, i) => {
			const { answer, letGo } = ask(kind, job);
			answer.then(
				(value) => put(i, { value, fresh: true, error: "" }),
				(error: unknown) => {
					if (error instanceof JobCancelled) return;
					put(i, { value: null, fresh: true, error: error instanceof Error ? error.message : String(error) });
				},
			);
			return letGo;
		});
		return () => {
			wanted = false;
			for (const letGo of under) letGo();
		};
	});
	return answers;
}
