import { lazy, type ReactNode, Suspense } from "react";
import { useSession } from "@/api/session";
import { Trouble } from "@/parts/trouble";
import classes from "./people.module.css";

// Who is signed in never sees these.
const outside = () => import("./outside");
const SignIn = lazy(async () => ({ default: (await outside()).SignIn }));
const FirstStart = lazy(async () => ({ default: (await outside()).FirstStart }));
const SharedPage = lazy(async () => ({ default: (await outside()).SharedPage }));

/** Lets in who is signed in; else shows the first start or the sign-in. */
export function Door({ children }: { children: ReactNode }) {
  const session = useSession();
  if (location.pathname.startsWith("/shared/"))
    return (
      <Suspense>
        <SharedPage token={location.pathname.slice("/shared/".length)} />
      </Suspense>
    );
  if (session.error)
    return (
      <main className={classes.door}>
        <Trouble error={session.error} again={() => void session.refetch()} />
      </main>
    );
  if (!session.data) return null;
  if (session.data.person) return children;
  return <Suspense>{session.data.first_start ? <FirstStart /> : <SignIn />}</Suspense>;
}
