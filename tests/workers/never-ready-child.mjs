/** A child that ends before it can take a job. */
process.exit(1);
