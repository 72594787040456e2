import { Button, Select, TextInput } from "@mantine/core";
import { useQuery, useQueryClient } from "@tanstack/react-query";
import { useState } from "react";
import { Link, useSearch } from "wouter";
import { answerOf, client } from "@/api/client";
import type { components } from "@/api/schema.gen";
import { useVehicles } from "@/api/queries";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import classes from "./customers.module.css";

type Customer = components["schemas"]["Customer"];
type Vehicle = components["schemas"]["CustomerVehicle"];

const noCustomer: Customer = {
  id: "",
  name: "",
  phone: "",
  email: "",
  address: "",
  language: "en",
  revision: 1,
};
const noVehicle: Vehicle = {
  id: "",
  customer: "",
  model: "",
  plate: "",
  vin: "",
  vin_reason: "",
  note: "",
  revision: 1,
};

/** Customers by name, plate or VIN; one of them with the vehicles it brings. */
export default function CustomersPage() {
  const sought = new URLSearchParams(useSearch()).get("find") ?? "";
  return <Customers key={sought} sought={sought} />;
}

function Customers({ sought }: { sought: string }) {
  const { words } = useReader();
  const [start, setStart] = useState(sought);
  const [chosen, setChosen] = useState<string>();
  const customers = useQuery({
    queryKey: ["customers", start],
    queryFn: async () =>
      (await answerOf(client.GET("/customers", { params: { query: { start } } }))).customers,
    placeholderData: (before) => before,
  });
  return (
    <div className={classes.page}>
      <h1>{words.customers.title}</h1>
      <div className={classes.sides}>
        <Sheet title={words.customers.find}>
          <TextInput
            label={words.customers.start}
            value={start}
            onChange={(event) => setStart(event.currentTarget.value)}
          />
          {customers.error && <Trouble error={customers.error} />}
          <ul className={classes.list}>
            {customers.data?.map(({ id, name }) => (
              <li key={id}>
                <Button
                  variant={id === chosen ? "light" : "subtle"}
                  justify="start"
                  fullWidth
                  onClick={() => setChosen(id)}
                >
                  {name}
                </Button>
              </li>
            ))}
          </ul>
          <Button variant="default" onClick={() => setChosen("")}>
            {words.customers.add}
          </Button>
        </Sheet>
        {chosen === "" && <CustomerForm customer={noCustomer} onKept={setChosen} />}
        {chosen && <CustomerView key={chosen} id={chosen} />}
      </div>
    </div>
  );
}

function CustomerView({ id }: { id: string }) {
  const { words } = useReader();
  const [adding, setAdding] = useState(false);
  const view = useQuery({
    queryKey: ["customer", id],
    queryFn: () =>
      answerOf(client.GET("/customers/{customer}", { params: { path: { customer: id } } })),
  });
  if (view.error) return <Trouble error={view.error} again={() => void view.refetch()} />;
  if (!view.data) return null;
  const { vehicles, jobs, ...customer } = view.data;
  return (
    <div className={classes.view}>
      <CustomerForm key={customer.revision} customer={customer} />
      {vehicles.map((vehicle) => (
        <VehicleForm key={`${vehicle.id} ${vehicle.revision}`} vehicle={vehicle} />
      ))}
      {adding && (
        <VehicleForm vehicle={{ ...noVehicle, customer: id }} onKept={() => setAdding(false)} />
      )}
      {!adding && (
        <div>
          <Button variant="default" onClick={() => setAdding(true)}>
            {words.customers.addVehicle}
          </Button>
        </div>
      )}
      {jobs.length > 0 && (
        <Sheet title={words.customers.jobs}>
          <ul className={classes.list}>
            {jobs.map((job) => (
              <li key={job}>
                <Link href={`/jobs/${encodeURIComponent(job)}/body`}>{job}</Link>
              </li>
            ))}
          </ul>
        </Sheet>
      )}
    </div>
  );
}

/** Keeps a record; `error` stays until the next try. */
function useKeeping<Kept>(keep: () => Promise<Kept>, onKept?: (kept: Kept) => void) {
  const queries = useQueryClient();
  const [error, setError] = useState<unknown>();
  const [busy, setBusy] = useState(false);
  const submit = async () => {
    setBusy(true);
    setError(undefined);
    try {
      const kept = await keep();
      await queries.invalidateQueries({ queryKey: ["customers"] });
      await queries.invalidateQueries({ queryKey: ["customer"] });
      onKept?.(kept);
    } catch (fault) {
      setError(fault);
    } finally {
      setBusy(false);
    }
  };
  return { error, busy, submit };
}

function CustomerForm({ customer, onKept }: { customer: Customer; onKept?: (id: string) => void }) {
  const { words } = useReader();
  const [draft, setDraft] = useState(customer);
  const keeping = useKeeping(
    () => {
      const { id, revision, ...body } = draft;
      return id
        ? answerOf(
            client.POST("/customers/{customer}", {
              params: { path: { customer: id } },
              body: { ...body, revision },
            }),
          )
        : answerOf(client.POST("/customers", { body }));
    },
    (kept) => onKept?.(kept.id),
  );
  const field = (name: "name" | "phone" | "email" | "address") => (
    <TextInput
      label={words.customers[name]}
      value={draft[name]}
      required={name === "name"}
      onChange={(event) => setDraft({ ...draft, [name]: event.currentTarget.value })}
    />
  );
  return (
    <Sheet title={customer.id ? `${customer.name} · ${customer.id}` : words.customers.add}>
      <form
        className={classes.form}
        onSubmit={(event) => {
          event.preventDefault();
          void keeping.submit();
        }}
      >
        {field("name")}
        {field("phone")}
        {field("email")}
        {field("address")}
        <Select
          label={words.customers.language}
          data={[
            { value: "en", label: "English" },
            { value: "de", label: "Deutsch" },
          ]}
          value={draft.language}
          onChange={(language) => setDraft({ ...draft, language: language === "de" ? "de" : "en" })}
          allowDeselect={false}
        />
        {keeping.error !== undefined && <Trouble error={keeping.error} />}
        <div>
          <Button type="submit" loading={keeping.busy}>
            {words.people.save}
          </Button>
        </div>
      </form>
    </Sheet>
  );
}

function VehicleForm({ vehicle, onKept }: { vehicle: Vehicle; onKept?: () => void }) {
  const { words } = useReader();
  const models = useVehicles();
  const [draft, setDraft] = useState(vehicle);
  const keeping = useKeeping(() => {
    const { id, customer, revision, ...body } = draft;
    return id
      ? answerOf(
          client.POST("/customer-vehicles/{vehicle}", {
            params: { path: { vehicle: id } },
            body: { ...body, revision },
          }),
        )
      : answerOf(
          client.POST("/customers/{customer}/vehicles", { params: { path: { customer } }, body }),
        );
  }, onKept);
  const field = (name: "plate" | "vin" | "vin_reason" | "note") => (
    <TextInput
      label={words.customers[name]}
      value={draft[name]}
      onChange={(event) => setDraft({ ...draft, [name]: event.currentTarget.value })}
    />
  );
  return (
    <Sheet title={vehicle.id ? `${vehicle.plate} · ${vehicle.id}` : words.customers.addVehicle}>
      <form
        className={classes.form}
        onSubmit={(event) => {
          event.preventDefault();
          void keeping.submit();
        }}
      >
        {field("plate")}
        {field("vin")}
        <VinCheck vin={draft.vin} />
        {field("vin_reason")}
        <Select
          label={words.customers.model}
          data={models.data?.map(({ id, name }) => ({ value: id, label: name })) ?? []}
          value={draft.model || null}
          onChange={(model) => setDraft({ ...draft, model: model ?? "" })}
          clearable
        />
        {field("note")}
        {keeping.error !== undefined && <Trouble error={keeping.error} />}
        <div>
          <Button type="submit" loading={keeping.busy}>
            {words.people.save}
          </Button>
        </div>
      </form>
    </Sheet>
  );
}

/** Says while it is typed whether the check digit of a whole VIN fits. */
function VinCheck({ vin }: { vin: string }) {
  const whole = vin.replace(/[ -]/g, "").length === 17;
  const check = useQuery({
    queryKey: ["vin", vin],
    queryFn: () => answerOf(client.GET("/vins/{vin}", { params: { path: { vin } } })),
    enabled: whole,
  });
  if (!whole) return null;
  if (check.error) return <Trouble error={check.error} />;
  const problem = check.data?.problem;
  return problem ? <Note tone="caution" lines={[problem.message, problem.remedy]} /> : null;
}
