//! Plan, bank, roster and seed make forms, flights, codes, serving orders, seats and the pour plan.
