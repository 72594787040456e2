export default function PiecesPage(props: { job: unknown }) { return <p>{String(props.job)}</p>; }
