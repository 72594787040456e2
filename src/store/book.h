#pragma once

#include "store/blob_book.h"
#include "store/card_book.h"
#include "store/customer_book.h"
#include "store/glass_book.h"
#include "store/installation_book.h"
#include "store/invoice_book.h"
#include "store/job_book.h"
#include "store/people_book.h"
#include "store/plan_book.h"
#include "store/quote_book.h"
#include "store/run_book.h"
#include "store/shop_book.h"
#include "store/stock_book.h"
#include "store/vehicle_book.h"
#include "store/warranty_book.h"

namespace film::store {

/// The shop's records as they stand inside one transaction (store/store.h makes them), one part a
/// family of records. Readers return values, never views into the store. When the database itself
/// fails, the transaction ends and Store::look or Store::change returns the error; callers need
/// not expect it here.
class Book : public virtual ShopBook,
             public virtual StockBook,
             public virtual VehicleBook,
             public virtual JobBook,
             public virtual RunBook,
             public virtual GlassBook,
             public virtual InstallationBook,
             public virtual WarrantyBook,
             public virtual InvoiceBook,
             public virtual QuoteBook,
             public virtual PeopleBook,
             public virtual PlanBook,
             public virtual CardBook,
             public virtual CustomerBook,
             public virtual BlobBook {
 public:
  using CardBook::append;
  using CustomerBook::add;
  using CustomerBook::put;
  using CustomerBook::update;
  using GlassBook::append;
  using InstallationBook::add;
  using InstallationBook::append;
  using InvoiceBook::add;
  using InvoiceBook::append;
  using InvoiceBook::put;
  using JobBook::add;
  using JobBook::append;
  using JobBook::put;
  using JobBook::update;
  using PeopleBook::add;
  using PeopleBook::append;
  using PeopleBook::put;
  using PeopleBook::update;
  using QuoteBook::add;
  using QuoteBook::append;
  using QuoteBook::update;
  using RunBook::add;
  using RunBook::update;
  using ShopBook::put;
  using StockBook::add;
  using StockBook::put;
  using StockBook::update;
  using VehicleBook::add;
  using WarrantyBook::add;
  using WarrantyBook::append;
  using WarrantyBook::put;
};

}  // namespace film::store
