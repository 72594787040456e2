import { expect, expectAccessible, expectNoOverflow } from "./watch.mjs";

/** What is kept on the stock page beyond rolls coming and going. */
export const stock = [
  {
    name: "stock: a defect, a minimum that asks for an order, an offcut kept and written off",
    async run({ page, picture }) {
      await page.goto("/stock");
      await page
        .getByRole("button", { name: /: Count…$/ })
        .first()
        .click();
      await page.getByRole("menuitem", { name: "Defects" }).click();
      const defects = page.getByRole("dialog", { name: /^Defects: / });
      await defects.getByRole("button", { name: "Add a defect" }).click();
      await defects.getByLabel("What it is").last().fill("a crease in the liner");
      await expectAccessible(page);
      await picture("stock-defects");
      await defects.getByRole("button", { name: "Save" }).click();
      await defects.waitFor({ state: "hidden" });
      await page
        .getByText(/ · \d+ defects?$/)
        .first()
        .waitFor();

      await page
        .getByRole("button", { name: /^Change how it is kept: / })
        .first()
        .click();
      const supply = page.getByRole("dialog", { name: "Change how it is kept" });
      await supply.getByLabel("Least that is kept").fill("3000");
      await expectAccessible(page);
      await picture("stock-supply");
      await supply.getByRole("button", { name: "Save" }).click();
      await supply.waitFor({ state: "hidden" });
      await page
        .getByRole("region", { name: "To order" })
        .getByText(/below the minimum/)
        .first()
        .waitFor();

      await page.getByRole("button", { name: "Keep an offcut" }).click();
      const offcut = page.getByRole("dialog", { name: "Keep an offcut" });
      await offcut.getByRole("combobox", { name: "Film" }).click();
      await page.getByRole("option").first().click();
      await offcut.getByLabel("Lot").fill("by hand");
      await offcut.getByRole("button", { name: "Save" }).click();
      await offcut.waitFor({ state: "hidden" });
      const shelf = page.getByRole("region", { name: "Offcut shelf" });
      const kept = shelf.getByRole("listitem").filter({ hasText: "by hand" });
      await kept.getByRole("button", { name: /^Write off: / }).click();
      const away = page.getByRole("dialog", { name: /^Write off: / });
      await away.getByLabel("Reason").fill("dirty");
      await away.getByRole("button", { name: "Save" }).click();
      await away.waitFor({ state: "hidden" });
      await kept.waitFor({ state: "hidden" });
      expect((await kept.count()) === 0, "the offcut is still on the shelf");
      await expectNoOverflow(page);
      await expectAccessible(page);
    },
  },
];
