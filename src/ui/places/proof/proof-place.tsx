export function ProofPlace() {
	return <h1>Proof</h1>;
}
