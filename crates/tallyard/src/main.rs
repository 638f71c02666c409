//! Tallyard on the command line: reads the arguments, runs one command, prints an error once.

mod commands;
mod failure;
mod input;
mod json;
mod json_dates;
mod json_despatch;
mod json_explained;
mod json_laydown;
mod json_list;
mod json_points;
mod json_ready;
mod json_stakes;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// From the truck to the first day of the build: what the kit should hold, what the list says, what came.
#[derive(Parser)]
#[command(
    version,
    about,
    after_help = "Exit status: 0 done; 1 the input was refused (see stderr); 2 wrong use."
)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    Parts(commands::parts::Parts),
    List(commands::list::List),
    Codes(commands::codes::Codes),
    Difference(commands::difference::Difference),
    Dates(commands::dates::Dates),
    Laydown(commands::laydown::Laydown),
    Points(commands::points::Points),
    Ready(commands::ready::Ready),
    Stakes(commands::stakes::Stakes),
    Lift(commands::lift::Lift),
    Papers(commands::papers::Papers),
    Bundle(commands::bundle::Bundle),
    Received(commands::received::Received),
    Verify(commands::verify::Verify),
    Yard(commands::yard::Yard),
    Demo(commands::demo::Demo),
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let done = match arguments.command {
        Command::Parts(command) => command.run(),
        Command::List(command) => command.run(),
        Command::Codes(command) => command.run(),
        Command::Difference(command) => command.run(),
        Command::Dates(command) => command.run(),
        Command::Laydown(command) => command.run(),
        Command::Points(command) => command.run(),
        Command::Ready(command) => command.run(),
        Command::Stakes(command) => command.run(),
        Command::Lift(command) => command.run(),
        Command::Papers(command) => command.run(),
        Command::Bundle(command) => command.run(),
        Command::Received(command) => command.run(),
        Command::Verify(command) => command.run(),
        Command::Yard(command) => command.run(),
        Command::Demo(command) => command.run(),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.report(),
    }
}
