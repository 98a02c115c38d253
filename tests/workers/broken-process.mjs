/** A process of the tests that ends as soon as it starts. */
process.exit(7);
