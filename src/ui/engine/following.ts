import { type ReadonlySignal, signal, useComputed, useSignalEffect } from "@preact/signals";
import { useState } from "preact/hooks";
import type { PageJobs } from "../../../workers/page-jobs.ts";
import { JobCancelled } from "../../../workers/pool.ts";
import { type Answer, ask } from "./answers.ts";

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
export function useFollowing<K extends "flight">(
	kind: K,
	question: () => PageJobs[K]["job"] | null,
): ReadonlySignal<FollowingAnswer<PageJobs[K]["result"], PageJobs[K]["job"]>> {
	type Found = FollowingAnswer<PageJobs[K]["result"], PageJobs[K]["job"]>;
	const [follower] = useState(() => {
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
			const { answer: coming } = ask(kind, job);
			try {
				const value = await coming;
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
	const job = useComputed(question);
	useSignalEffect(() => {
		follower.live();
		follower.want(job.value);
		return () => follower.leave();
	});
	return follower.answer;
}

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
