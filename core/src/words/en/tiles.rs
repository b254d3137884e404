//! Templates in tiles.

use crate::words::groups::tiles::Tiles;

pub(in crate::words) static WORDS: Tiles = Tiles {
    how: "This template is larger than the paper and comes in tiles, each named by its column, counted from the left, and its row, counted from the bottom. Cut the left and the lower edge of each tile off on its join line, and leave the paper beyond the join lines at the right and at the top: it goes under the next tile. Lay join line on join line, cross on cross, and glue. Measure the whole before you use it.",
    tile: "column {column}, row {row}",
    heading: "Tile {index} of {count}: {name}",
    join: "join {number}",
    join_row: "join row {number}",
}
.checked();
