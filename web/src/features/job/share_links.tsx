import { Button, CopyButton, NumberInput, TextInput } from "@mantine/core";
import { useState } from "react";
import { useEndLink, useLinks, useShareJob } from "@/api/job_queries";
import { EntryForm } from "@/parts/entry_form";
import { Trouble } from "@/parts/trouble";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import classes from "./job.module.css";

/** Links with which the customer looks at the job: made, seen, ended. */
export function ShareLinks({ job }: { job: string }) {
  const { words, format } = useReader();
  const page = words.jobPage;
  const links = useLinks(job);
  const share = useShareJob(job);
  const end = useEndLink(job);
  const [days, setDays] = useState<string | number>(30);
  // When the list came decides what has run out: the page itself has no clock.
  const now = new Date(links.dataUpdatedAt).toISOString();
  const standing = (link: { revoked: boolean; expires: string }) =>
    link.revoked ? "ended" : link.expires < now ? "expired" : "open";
  const path = share.data?.path;
  return (
    <Sheet title={page.links}>
      <p className={classes.soft}>{page.linksText}</p>
      <EntryForm
        inline
        label={page.makeLink}
        submit={page.makeLink}
        onSubmit={() => typeof days === "number" && share.mutate(days)}
        busy={share.isPending}
        error={share.error}
        disabled={typeof days !== "number"}
      >
        <NumberInput
          label={page.days}
          value={days}
          onChange={setDays}
          min={1}
          max={365}
          allowDecimal={false}
          w={110}
        />
      </EntryForm>
      {path !== undefined && (
        <div className={classes.told} role="status">
          <p>{page.toldOnce}</p>
          <TextInput
            label={page.address}
            value={`${location.origin}${path}`}
            readOnly
            onFocus={(event) => event.currentTarget.select()}
          />
          <CopyButton value={`${location.origin}${path}`}>
            {({ copied, copy }) => (
              <Button variant="default" onClick={copy}>
                {copied ? page.copied : page.copy}
              </Button>
            )}
          </CopyButton>
        </div>
      )}
      {(links.error ?? end.error) && (
        <Trouble error={links.error ?? end.error} again={() => void links.refetch()} />
      )}
      <ul className={classes.links}>
        {links.data?.map((link) => (
          <li key={link.id} data-standing={standing(link)}>
            <span>
              <strong>{link.id}</strong> {page.linkStates[standing(link)]}
              <small>
                {page.linkMade(link.made_by, format.day(link.created), format.day(link.expires))}
              </small>
            </span>
            {standing(link) === "open" && (
              <Button
                variant="subtle"
                size="compact-sm"
                loading={end.isPending && end.variables === link.id}
                onClick={() => end.mutate(link.id)}
                aria-label={`${page.endLink}: ${link.id}`}
              >
                {page.endLink}
              </Button>
            )}
          </li>
        ))}
      </ul>
    </Sheet>
  );
}
