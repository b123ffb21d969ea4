System.Console.WriteLine("BoardSim");
