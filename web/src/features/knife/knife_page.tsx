export default function KnifePage(props: { job: unknown }) { return <p>{String(props.job)}</p>; }
