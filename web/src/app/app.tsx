import { lazy, Suspense } from "react";
import { Route, Switch } from "wouter";
import { useJob } from "@/api/queries";
import { BenchPage } from "@/features/bench/bench_page";
import { SearchProvider } from "@/parts/search";
import { Empty } from "@/ui/note";
import { useReader } from "@/words/preferences";
import { Bar, steps } from "./bar";
import { Fault, Guard } from "./fault";
import classes from "./app.module.css";

const JobPage = lazy(() => import("@/features/job/job_page"));
const HandOverPage = lazy(() => import("@/features/hand_over/hand_over_page"));
const BodyPage = lazy(() => import("@/features/body/body_page"));
const PiecesPage = lazy(() => import("@/features/pieces/pieces_page"));
const RollPage = lazy(() => import("@/features/roll/roll_page"));
const GlassPage = lazy(() => import("@/features/glass/glass_page"));
const PlanPage = lazy(() => import("@/features/plan/plan_page"));
const WorkplacePage = lazy(() => import("@/features/workplace/workplace_page"));
const CardPage = lazy(() => import("@/features/card/card_page"));
const CounterPage = lazy(() => import("@/features/counter/counter_page"));
const StockPage = lazy(() => import("@/features/stock/stock_page"));
const PeoplePage = lazy(() => import("@/features/people/people_page"));
const MePage = lazy(() => import("@/features/people/me_page"));
const CustomersPage = lazy(() => import("@/features/customers/customers_page"));
const AftercarePage = lazy(() => import("@/features/aftercare/aftercare_page"));
const OfferPage = lazy(() => import("@/features/offer/offer_page"));
const QuotePage = lazy(() => import("@/features/offer/quote_page"));
const KnifePage = lazy(() => import("@/features/knife/knife_page"));

export function App() {
  return (
    <Switch>
      <Route path="/">
        <Frame>
          <BenchPage />
        </Frame>
      </Route>
      <Route path="/stock">
        <Frame>
          <Suspense fallback={<div className={classes.waiting} aria-busy="true" />}>
            <StockPage />
          </Suspense>
        </Frame>
      </Route>
      <Route path="/plan">
        <Frame>
          <PlanPage />
        </Frame>
      </Route>
      <Route path="/plan/workplace">
        <Frame>
          <WorkplacePage />
        </Frame>
      </Route>
      <Route path="/counter">
        <Frame>
          <CounterPage />
        </Frame>
      </Route>
      <Route path="/people">
        <Frame>
          <PeoplePage />
        </Frame>
      </Route>
      <Route path="/me">
        <Frame>
          <MePage />
        </Frame>
      </Route>
      <Route path="/customers">
        <Frame>
          <CustomersPage />
        </Frame>
      </Route>
      <Route path="/aftercare">
        <Frame>
          <AftercarePage />
        </Frame>
      </Route>
      <Route path="/offer">
        <Frame>
          <OfferPage />
        </Frame>
      </Route>
      <Route path="/quotes/:quote">
        {({ quote }) => (
          <Frame>
            <QuotePage quote={decodeURIComponent(quote)} />
          </Frame>
        )}
      </Route>
      <Route path="/jobs/:job/:step">
        {({ job, step }) => (
          <SearchProvider key={job} job={decodeURIComponent(job)}>
            <JobFrame job={decodeURIComponent(job)} step={step} />
          </SearchProvider>
        )}
      </Route>
      <Route>
        <Frame>
          <Lost />
        </Frame>
      </Route>
    </Switch>
  );
}

function Frame({ children }: { children: React.ReactNode }) {
  return (
    <div className={classes.frame}>
      <Bar />
      <main id="page" className={classes.page} tabIndex={-1}>
        <Guard>
          <Suspense fallback={<div className={classes.waiting} aria-busy="true" />}>
            {children}
          </Suspense>
        </Guard>
      </main>
    </div>
  );
}

function JobFrame({ job: id, step }: { job: string; step: string }) {
  const job = useJob(id);
  return (
    <div className={classes.frame}>
      <Bar job={job.data ?? id} step={step} />
      <main id="page" className={classes.page} tabIndex={-1}>
        <Guard key={step}>
          <Suspense fallback={<div className={classes.waiting} aria-busy="true" />}>
            {job.error && <Fault error={job.error} again={() => void job.refetch()} />}
            {job.data && step === "job" && <JobPage job={job.data} />}
            {job.data && step === "body" && <BodyPage job={job.data} />}
            {job.data && step === "pieces" && <PiecesPage job={job.data} />}
            {job.data && step === "roll" && <RollPage job={job.data} />}
            {job.data && step === "glass" && <GlassPage job={job.data} />}
            {job.data && step === "knife" && <KnifePage job={job.data} />}
            {job.data && step === "card" && <CardPage job={job.data} />}
            {job.data && step === "handover" && <HandOverPage job={job.data} />}
            {!steps.some((name) => name === step) && <Lost />}
          </Suspense>
        </Guard>
      </main>
    </div>
  );
}

function Lost() {
  const { words } = useReader();
  return (
    <Empty title={words.problem.notFound}>
      <p>{words.problem.notFoundRemedy}</p>
    </Empty>
  );
}
