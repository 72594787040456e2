import { Button, TextInput } from "@mantine/core";
import { useState } from "react";
import { Link, useSearch } from "wouter";
import { useCustomer, useCustomers } from "@/api/job_queries";
import { CustomerForm, noCustomer, noVehicle, VehicleForm } from "@/parts/customer_forms";
import { Trouble } from "@/parts/trouble";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import classes from "./customers.module.css";

/** Customers by name, plate or VIN; one of them with the vehicles it brings. */
export default function CustomersPage() {
  const sought = new URLSearchParams(useSearch()).get("find") ?? "";
  return <Customers key={sought} sought={sought} />;
}

function Customers({ sought }: { sought: string }) {
  const { words } = useReader();
  const [start, setStart] = useState(sought);
  const [chosen, setChosen] = useState<string>();
  const customers = useCustomers(start);
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
        {chosen === "" && (
          <Sheet title={words.customers.add}>
            <CustomerForm customer={noCustomer} onKept={({ id }) => setChosen(id)} />
          </Sheet>
        )}
        {chosen && <CustomerView key={chosen} id={chosen} />}
      </div>
    </div>
  );
}

function CustomerView({ id }: { id: string }) {
  const { words } = useReader();
  const [adding, setAdding] = useState(false);
  const view = useCustomer(id);
  if (view.error) return <Trouble error={view.error} again={() => void view.refetch()} />;
  if (!view.data) return null;
  const { vehicles, jobs, ...customer } = view.data;
  return (
    <div className={classes.view}>
      <Sheet title={`${customer.name} · ${customer.id}`}>
        <CustomerForm key={customer.revision} customer={customer} />
      </Sheet>
      {vehicles.map((vehicle) => (
        <Sheet key={`${vehicle.id} ${vehicle.revision}`} title={`${vehicle.plate} · ${vehicle.id}`}>
          <VehicleForm vehicle={vehicle} />
        </Sheet>
      ))}
      {adding ? (
        <Sheet title={words.customers.addVehicle}>
          <VehicleForm vehicle={{ ...noVehicle, customer: id }} onKept={() => setAdding(false)} />
        </Sheet>
      ) : (
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
                <Link href={`/jobs/${encodeURIComponent(job)}/job`}>{job}</Link>
              </li>
            ))}
          </ul>
        </Sheet>
      )}
    </div>
  );
}
