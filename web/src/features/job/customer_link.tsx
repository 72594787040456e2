import { Button, Radio, TextInput } from "@mantine/core";
import { useState } from "react";
import { Link } from "wouter";
import type { Job } from "@/api/client";
import { useCustomer, useCustomers, useJobCustomer, useLinkCustomer } from "@/api/job_queries";
import { useIsOne } from "@/api/session";
import { CustomerForm, noCustomer, noVehicle, VehicleForm } from "@/parts/customer_forms";
import { Dialog } from "@/parts/dialog";
import { EntryForm } from "@/parts/entry_form";
import { Trouble } from "@/parts/trouble";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import classes from "./job.module.css";

/** Who the job is for, and with which vehicle. */
export function CustomerLink({ job }: { job: Job }) {
  const { words } = useReader();
  const page = words.jobPage;
  const link = useJobCustomer(job.id);
  const customer = useCustomer(link.data?.customer ?? "");
  const mayLink = useIsOne("lead", "desk");
  const [choosing, setChoosing] = useState(false);
  const vehicle = customer.data?.vehicles.find(({ id }) => id === link.data?.vehicle);
  const fault = link.error ?? customer.error;
  return (
    <Sheet title={page.customer}>
      {fault && <Trouble error={fault} again={() => void link.refetch()} />}
      {customer.data ? (
        <p className={classes.customer}>
          <strong>
            {customer.data.name} · {customer.data.id}
          </strong>
          {customer.data.phone && <a href={`tel:${customer.data.phone}`}>{customer.data.phone}</a>}
          {customer.data.email && (
            <a href={`mailto:${customer.data.email}`}>{customer.data.email}</a>
          )}
          {vehicle && <span>{[vehicle.plate, vehicle.vin].filter(Boolean).join(" · ")}</span>}
        </p>
      ) : (
        link.data?.customer === "" && <p className={classes.soft}>{page.notLinked(job.customer)}</p>
      )}
      {mayLink && (
        <Button variant="default" onClick={() => setChoosing(true)}>
          {link.data?.customer ? page.changeCustomer : page.chooseCustomer}
        </Button>
      )}
      {choosing && (
        <ChooseCustomer
          job={job}
          first={link.data?.customer ?? ""}
          onClose={() => setChoosing(false)}
        />
      )}
    </Sheet>
  );
}

interface ChooseProps {
  job: Job;
  first: string;
  onClose: () => void;
}

function ChooseCustomer({ job, first, onClose }: ChooseProps) {
  const { words } = useReader();
  const [customer, setCustomer] = useState(first);
  const [making, setMaking] = useState(false);
  return (
    <Dialog title={words.jobPage.chooseCustomer} onClose={onClose} size="lg">
      {customer !== "" ? (
        <ChooseVehicle
          key={customer}
          job={job}
          customer={customer}
          onOther={() => setCustomer("")}
          onClose={onClose}
        />
      ) : making ? (
        <CustomerForm
          customer={{ ...noCustomer, name: job.customer }}
          onKept={({ id }) => setCustomer(id)}
        />
      ) : (
        <FindCustomer start={job.customer} onChoose={setCustomer} onMake={() => setMaking(true)} />
      )}
    </Dialog>
  );
}

interface FindProps {
  start: string;
  onChoose: (customer: string) => void;
  onMake: () => void;
}

function FindCustomer({ start, onChoose, onMake }: FindProps) {
  const { words } = useReader();
  const [typed, setTyped] = useState(start);
  const customers = useCustomers(typed);
  return (
    <div className={classes.find}>
      <TextInput
        label={words.customers.start}
        value={typed}
        onChange={(event) => setTyped(event.currentTarget.value)}
        data-autofocus
      />
      {customers.error && <Trouble error={customers.error} />}
      <ul className={classes.found}>
        {customers.data?.map(({ id, name, phone }) => (
          <li key={id}>
            <Button variant="subtle" justify="start" fullWidth onClick={() => onChoose(id)}>
              {[name, id, phone].filter(Boolean).join(" · ")}
            </Button>
          </li>
        ))}
        {customers.data?.length === 0 && <li className={classes.soft}>{words.jobPage.nobody}</li>}
      </ul>
      <div>
        <Button variant="default" onClick={onMake}>
          {words.customers.add}
        </Button>
      </div>
    </div>
  );
}

interface ChooseVehicleProps {
  job: Job;
  customer: string;
  onOther: () => void;
  onClose: () => void;
}

function ChooseVehicle({ job, customer, onOther, onClose }: ChooseVehicleProps) {
  const { words } = useReader();
  const page = words.jobPage;
  const view = useCustomer(customer);
  const link = useLinkCustomer(job);
  const [picked, setPicked] = useState<string>();
  const [adding, setAdding] = useState(false);
  if (view.error) return <Trouble error={view.error} again={() => void view.refetch()} />;
  if (!view.data) return <p aria-busy="true">{words.waiting}</p>;
  if (adding)
    return (
      <VehicleForm
        vehicle={{ ...noVehicle, customer, model: job.vehicle }}
        onKept={({ id }) => {
          setPicked(id);
          setAdding(false);
        }}
      />
    );
  const { vehicles } = view.data;
  const vehicle = picked ?? vehicles[0]?.id ?? "";
  return (
    <EntryForm
      submit={page.link}
      onSubmit={() => link.mutate({ customer, vehicle }, { onSuccess: onClose })}
      busy={link.isPending}
      error={link.error}
    >
      <p>
        <Link href="/customers">{view.data.name}</Link> · {customer}
      </p>
      <Radio.Group label={page.whichVehicle} value={vehicle} onChange={setPicked}>
        <div className={classes.choices}>
          {vehicles.map(({ id, plate, vin, note }) => (
            <Radio
              key={id}
              value={id}
              label={[plate, id].filter(Boolean).join(" · ")}
              description={[vin, note].filter(Boolean).join(" · ")}
            />
          ))}
          <Radio value="" label={page.noVehicle} />
        </div>
      </Radio.Group>
      <div className={classes.moves}>
        <Button variant="default" onClick={() => setAdding(true)}>
          {words.customers.addVehicle}
        </Button>
        <Button variant="subtle" onClick={onOther}>
          {page.otherCustomer}
        </Button>
      </div>
    </EntryForm>
  );
}
