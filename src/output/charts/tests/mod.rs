//! Tests of the charts.
