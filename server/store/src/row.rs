//! The columns of a table, written once: as the fields of its row. Statements that read or add whole rows come from there.

/// A struct whose fields are the columns of a table, in any order. `select` reads such rows; `, insert` after the table also gives `insert`,
/// which adds one.
macro_rules! row {
    (
        $(#[$about:meta])*
        pub struct $name:ident of $table:literal {
            $($(#[$note:meta])* pub $column:ident: $type:ty,)*
        }
    ) => {
        $(#[$about])*
        pub struct $name {
            $($(#[$note])* pub $column: $type,)*
        }

        impl $name {
            const COLUMNS: &'static [&'static str] = &[$(stringify!($column)),*];

            /// A statement that reads such rows; `rest` is what follows the name of the table.
            pub(crate) fn select<'v>(rest: &str) -> crate::sql::Sql<'v> {
                crate::sql::sql_of(format!("SELECT {} FROM {} {rest}", Self::COLUMNS.join(", "), $table))
            }
        }
    };
    (
        $(#[$about:meta])*
        pub struct $name:ident of $table:literal, insert {
            $($(#[$note:meta])* pub $column:ident: $type:ty,)*
        }
    ) => {
        crate::row::row! {
            $(#[$about])*
            pub struct $name of $table {
                $($(#[$note])* pub $column: $type,)*
            }
        }

        impl $name {
            /// A statement that adds this row; `more` are columns that its table has besides.
            pub(crate) fn insert<'v>(&'v self, more: &[(&str, crate::sql::Value<'v>)]) -> crate::sql::Sql<'v> {
                let columns: Vec<&str> = more.iter().map(|(column, _)| *column).chain(Self::COLUMNS.iter().copied()).collect();
                let places: Vec<String> = (1..=columns.len()).map(|place| format!("${place}")).collect();
                let (columns, places) = (columns.join(", "), places.join(", "));
                let insert = crate::sql::sql_of(format!("INSERT INTO {} ({columns}) VALUES ({places})", $table));
                more.iter().fold(insert, |insert, (_, value)| insert.bind(*value))$(.bind(&self.$column))*
            }
        }
    };
}

pub(crate) use row;
