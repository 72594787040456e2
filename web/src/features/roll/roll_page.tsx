export default function RollPage(props: { job: unknown }) { return <p>{String(props.job)}</p>; }
