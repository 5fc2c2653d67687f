import { type ReadonlySignal, signal, useSignalEffect } from "@preact/signals";
import { useState } from "preact/hooks";
import { browserPool } from "../../../workers/browser-pool.ts";
import type { PageJobs } from "../../../workers/page-jobs.ts";
import { JobCancelled, type Pool } from "../../../workers/pool.ts";
import type { Answer } from "./answers.ts";
import { useQuestion } from "./question.ts";

type Kind = keyof PageJobs & string;

let pool: Pool<PageJobs> | null = null;
/** Newest last: pictures that ask the same share the answer. */
const asked = new Map<string, Promise<unknown>>();
const KEPT = 24;

/** Workers of their own, one for curves and one for margins: what follows a drag does not wait behind other questions. */
function follow<K extends Kind>(kind: K, job: PageJobs[K]["job"]): Promise<PageJobs[K]["result"]> {
	const key = `${kind} ${JSON.stringify(job)}`;
	const known = asked.get(key);
	if (known) return known as Promise<PageJobs[K]["result"]>;
	pool ??= browserPool(2);
	const answer = pool.run(kind, job);
	asked.set(key, answer);
	answer.catch(() => asked.delete(key));
	if (asked.size > KEPT) asked.delete(asked.keys().next().value!);
	return answer;
}

/** An answer with how long it took to come. */
export interface FollowingAnswer<T, J> extends Answer<T> {
	/** What was asked; null while there is no answer. */
	readonly job: J | null;
	readonly tookMs: number;
}

const NONE = { value: null, fresh: true, error: "", job: null, tookMs: 0 } as const;

/**
 * The answer to a question that changes faster than it can be answered: one is under way at a time and is seen through, then the
 * newest is asked, so that answers keep coming while something is dragged.
 */
export function useFollowing<K extends Kind>(
	kind: K,
	question: () => PageJobs[K]["job"] | null,
): ReadonlySignal<FollowingAnswer<PageJobs[K]["result"], PageJobs[K]["job"]>> {
	type Found = FollowingAnswer<PageJobs[K]["result"], PageJobs[K]["job"]>;
	const [self] = useState(() => {
		const answer = signal<Found>({ ...NONE, fresh: false });
		let wanted: PageJobs[K]["job"] | null = null;
		let busy = false;
		let gone = false;
		const put = (found: Found): void => {
			if (!gone) answer.value = found;
		};
		const next = async (): Promise<void> => {
			const job = wanted;
			if (busy || job === null) return;
			busy = true;
			const began = performance.now();
			try {
				const value = await follow(kind, job);
				put({ value, job, fresh: same(wanted, job), error: "", tookMs: performance.now() - began });
			} catch (error) {
				if (!(error instanceof JobCancelled) && same(wanted, job))
					put({ ...NONE, error: error instanceof Error ? error.message : String(error) });
			}
			busy = false;
			if (!gone && !same(wanted, job)) void next();
		};
		return {
			answer,
			want(job: PageJobs[K]["job"] | null): void {
				wanted = job;
				if (job === null) put(NONE);
				else {
					if (answer.peek().fresh) put({ ...answer.peek(), fresh: false });
					void next();
				}
			},
			live(): void {
				gone = false;
			},
			leave(): void {
				gone = true;
			},
		};
	});
	const job = useQuestion(question);
	useSignalEffect(() => {
		self.live();
		self.want(job.value);
		return () => self.leave();
	});
	return self.answer;
}

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
